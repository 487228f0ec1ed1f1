export { mixedPool, planAgain, type SecondRun, type SecondRunInput } from "./again/index.ts";
export { checkRack, planColumn } from "./column/index.ts";
export { checkPlan } from "./compare/index.ts";
export { describeMixture, isMixtureLane, parseEluent, rankEluents } from "./eluents/index.ts";
export { massInWords, parseAmountMmol, parseLengthMm, parseMassG, parseVolumeMl } from "./quantity/index.ts";
export { tubeAt, tubePlace, usualRack } from "./rack/index.ts";
export { checkWeighing, recoverMass, type WeighedPool } from "./recovery/index.ts";
export { buildSheet, type SheetInput } from "./sheet/index.ts";
export { logTubes, USUAL_FRACTION_ML } from "./tubes/index.ts";
