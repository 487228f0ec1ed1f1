export {
  acceptPools,
  type Divided,
  describeAct,
  entriesUpTo,
  groundsOf,
  judgeAct,
  mergePools,
  moveTubes,
  namePool,
  parseEntry,
  presentDivision,
  type Replayed,
  reopenPools,
  replay,
  splitPool,
  type TypedEntry,
  tubesInWords,
  writtenOver,
} from "../decisions/index.ts";
export { asDecided, redecided } from "./decided.ts";
export { decideRun, runPictures } from "./decideRun.ts";
export type { GroupReading, JpegBytes, PhotoGroup, StraightenedPicture } from "./group.ts";
export { judgePool, type PoolGrounds } from "./judgePool.ts";
export type { KeptPlate, ReadGroupOptions } from "./keepPlate.ts";
export { type OpenGroup, openGroup, type Told } from "./openGroup.ts";
export { readGroup } from "./readGroup.ts";
export { readRun, runGroups } from "./readRun.ts";
export { readSoFar } from "./readSoFar.ts";
export { readTogether } from "./readTogether.ts";
export type { ReadGroups, RunInput, RunReading } from "./run.ts";
