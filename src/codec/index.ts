export { type DecodedPhoto, type DecodeOptions, decodePhoto } from "./decode.ts";
export { composeSvg, encodeJpeg, encodePng, shrinkToJpeg } from "./encode.ts";
export { MAX_MEGAPIXELS } from "./faults.ts";
