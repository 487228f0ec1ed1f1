export { type PlanPage, planHtml } from "./planHtml.ts";
export { type CrateFile, type CrateInput, crateMetadata } from "./roCrate.ts";
export { scoutHtml } from "./scoutHtml.ts";
export { SHEET_CSS, sheetBody, sheetHtml } from "./sheetHtml.ts";
export { SHEET_RACK_CSS } from "./sheetRack.ts";
export { eluentsCsv, planCsv, recoveryCsv, spotsCsv, tubesCsv } from "./tables.ts";
export { writeUpHtml, writeUpMarkdown } from "./writeUp.ts";
export { type WriteUpInput, writeUpText } from "./writeUpText.ts";
