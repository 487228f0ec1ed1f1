export * from "./elution.ts";
export * from "./error.ts";
export * from "./finding.ts";
export * from "./photo.ts";
export * from "./plate.ts";
export * from "./result.ts";
export * from "./run.ts";
