/**
 * The part of opencv-wasm that we call. The package's own types come as a TypeScript source that fails under our
 * compiler settings, so they are written out here; add what you use.
 */
export interface Mat {
  readonly rows: number;
  readonly cols: number;
  readonly data: Uint8Array;
  readonly data32S: Int32Array;
  readonly data32F: Float32Array;
  readonly data64F: Float64Array;
  delete(): void;
}

export interface OpenCv {
  readonly Mat: { new (): Mat; new (rows: number, cols: number, type: number): Mat };
  readonly CV_8UC1: number;
  readonly CV_32S: number;
  /** @returns number of labels, the ground included */
  connectedComponentsWithStats(
    image: Mat,
    labels: Mat,
    stats: Mat,
    centroids: Mat,
    connectivity: 4 | 8,
    labelType: number,
  ): number;
}
