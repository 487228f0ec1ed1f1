/** RGB picture: row-major, interleaved, 8-bit sRGB-encoded (IEC 61966-2-1), origin top left. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  /** length = width * height * 3 */
  readonly data: Uint8Array;
}

/** One channel of real numbers: row-major, origin top left. */
export interface Plane {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

export function makePlane(width: number, height: number): Plane {
  return { width, height, data: new Float32Array(width * height) };
}
