export { annotationSvg } from "./annotation/annotationSvg.ts";
export { poolsCsv } from "./csv.ts";
export { type Division, divisionOf } from "./division.ts";
export { reportHtml } from "./html.ts";
export type { JpegPicture, ReportInput, ReportNotes, ShrunkPhoto, StraightenedPlate } from "./input.ts";
export { picturesIn, type ReportPictures } from "./pictures.ts";
