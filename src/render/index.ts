export { type DemoRun, demoRun } from "./demo.ts";
export { LEVELS, type Level } from "./levels.ts";
export { planRun, type RunOptions } from "./plan/run.ts";
export type { RunRecipe } from "./recipe.ts";
export { type RenderedPhoto, renderRun } from "./render.ts";
export { runYaml } from "./runfile.ts";
export * from "./truth.ts";
