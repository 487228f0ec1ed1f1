export { aligned } from "./align.ts";
export { halfTurned, type Look, likeness, lookAtOutline, lookSize, surveyOf } from "./look.ts";
