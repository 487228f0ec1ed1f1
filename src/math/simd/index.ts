import { CODE } from "./code.ts";

/** Vector code: what it works on lies in its own memory, at addresses in bytes. What each does stands in ./assembly. */
interface VectorCode {
  readonly memory: { readonly buffer: ArrayBuffer; grow(pages: number): number };
  addNormals(
    down: number,
    firstsDown: number,
    across: number,
    firstsAcross: number,
    weights: number,
    values: number,
    count: number,
    gridW: number,
    gridH: number,
    nx: number,
    n: number,
    matrix: number,
    b: number,
  ): void;
  averageBlocks(
    pixels: number,
    across: number,
    rows: number,
    step: number,
    linear: number,
    limits: number,
    light: number,
    mask: number,
  ): void;
  averageValues(src: number, across: number, factor: number, width: number, height: number, dst: number): void;
  boxRows(src: number, dst: number, width: number, height: number, r: number): void;
  boxColumns(src: number, dst: number, width: number, height: number, r: number, sums: number): void;
  encodeCodes(light: number, count: number, encoded: number, steps: number, out: number): void;
  lessQuadric(src: number, width: number, height: number, terms: number, dst: number): void;
  logarithms(src: number, count: number, offset: number, dst: number, table: number): void;
  openRectangle(at: number, width: number, height: number, across: number, down: number): void;
  sampleBlocks(
    light: number,
    mask: number,
    w: number,
    h: number,
    place: number,
    width: number,
    height: number,
    out: number,
  ): void;
  sampleCodes(
    pixels: number,
    w: number,
    linear: number,
    limits: number,
    place: number,
    width: number,
    height: number,
    out: number,
  ): void;
  sampleSmall(pixels: number, w: number, place: number, width: number, height: number, out: number, sums: number): void;
  sampleSpline(
    rows: number,
    starts: number,
    weights: number,
    cells: number,
    width: number,
    height: number,
    dst: number,
  ): void;
  selectNth(at: number, count: number, k: number, room: number): number;
}

/** Addresses from here on are whose call it is. */
export const ROOM = 1024;
const PAGE = 65_536;

let loaded: VectorCode | null = null;

/**
 * The code that works on four numbers of single precision at a time, or two of double: WebAssembly with vector instructions,
 * compiled from ./assembly. Made at the first call, in about a millisecond. It does the same sums in the same order as a plain loop
 * would, so that its results are the same on every machine.
 */
export function vectorCode(): VectorCode {
  if (loaded) return loaded;
  const bytes = Uint8Array.from(atob(CODE), (letter) => letter.charCodeAt(0));
  loaded = new WebAssembly.Instance(new WebAssembly.Module(bytes)).exports as VectorCode;
  return loaded;
}

let singles = new Float32Array(0);

/** The code's memory as single precision, with room for `bytes` from ROOM on: good until it is called again. */
export function memoryFor(bytes: number): Float32Array {
  const { memory } = vectorCode();
  const missing = ROOM + bytes - memory.buffer.byteLength;
  if (missing > 0) memory.grow(Math.ceil(missing / PAGE));
  if (singles.buffer !== memory.buffer) singles = new Float32Array(memory.buffer);
  return singles;
}
