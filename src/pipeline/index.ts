export type { GroupReading, JpegBytes, PhotoGroup, StraightenedPicture } from "./group.ts";
export { type ReadGroupOptions, readGroup } from "./readGroup.ts";
export { type ReadGroups, type RunInput, type RunReading, readRun } from "./readRun.ts";
