export { contradictions } from "./contradictions.ts";
export { describeAct } from "./describe.ts";
export {
  acceptPools,
  type Divided,
  findPool,
  mergePools,
  moveTubes,
  namePool,
  presentDivision,
  reopenPools,
  splitPool,
  stretchPool,
  undecidedTubes,
} from "./division.ts";
export { groundsOf } from "./grounds.ts";
export { judgeAct } from "./judgeAct.ts";
export { sameComponent, sameLane, sameSpot } from "./matching.ts";
export { findPlate, isPlate, type PlacedPlate, plateKeyOf } from "./plates.ts";
export { type ReadAs, readAs, type TubesRead } from "./readAs.ts";
export { type HistoryEntry, type Replayed, replay } from "./replay.ts";
export { entriesUpTo, type LogNote, USUAL_ML, volumesIn, writtenOver } from "./tubeLog.ts";
export {
  type EntryFault,
  type EntryField,
  entryFaults,
  type ParsedEntry,
  parseEntry,
  SAID_FIELDS,
  type SaidField,
  type TypedEntry,
} from "./typedEntry.ts";
export { rfInWords, tubesInWords } from "./words.ts";
