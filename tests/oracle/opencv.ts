import { createRequire } from 'node:module';

/** The part of opencv-wasm that the oracles use; its own types do not pass this project's compiler flags. */
interface Mat {
  readonly data: Uint8Array;
  readonly data32S: Int32Array;
  delete(): void;
}
interface OpenCv {
  readonly Mat: new (rows?: number, columns?: number, type?: number) => Mat;
  readonly Size: new (width: number, height: number) => unknown;
  readonly Point: new (x: number, y: number) => unknown;
  readonly CV_8UC1: number;
  readonly CV_32S: number;
  readonly BORDER_REPLICATE: number;
  readonly INTER_AREA: number;
  readonly THRESH_BINARY: number;
  blur(from: Mat, to: Mat, size: unknown, anchor: unknown, border: number): void;
  absdiff(a: Mat, b: Mat, to: Mat): void;
  resize(from: Mat, to: Mat, size: unknown, fx: number, fy: number, interpolation: number): void;
  threshold(from: Mat, to: Mat, above: number, value: number, kind: number): void;
  connectedComponentsWithStats(
    from: Mat,
    labels: Mat,
    stats: Mat,
    centroids: Mat,
    connectivity: number,
    type: number,
  ): number;
}

// Through require, so that the compiler does not follow into those types.
const { cv } = createRequire(import.meta.url)('opencv-wasm') as { cv: OpenCv };

/** Box mean with the edge pixel repeated. */
export function blur(y: Uint8Array, width: number, height: number, radius: number): Uint8Array {
  const side = 2 * radius + 1;
  return through([y], width, height, ([from], to) => {
    cv.blur(from!, to, new cv.Size(side, side), new cv.Point(-1, -1), cv.BORDER_REPLICATE);
  });
}

export function absoluteDifference(a: Uint8Array, b: Uint8Array, width: number, height: number): Uint8Array {
  return through([a, b], width, height, ([first, second], to) => cv.absdiff(first!, second!, to));
}

/** Reduction by area average. */
export function reduce(
  y: Uint8Array,
  width: number,
  height: number,
  outWidth: number,
  outHeight: number,
): Uint8Array {
  return through([y], width, height, ([from], to) => {
    cv.resize(from!, to, new cv.Size(outWidth, outHeight), 0, 0, cv.INTER_AREA);
  });
}

/** Labels the 8-connected regions of one frame after another; its images are made once. */
export class Labelling {
  private readonly from: Mat;
  private readonly binary = new cv.Mat();
  private readonly labels = new cv.Mat();
  private readonly stats = new cv.Mat();
  private readonly centroids = new cv.Mat();

  constructor(width: number, height: number) {
    this.from = new cv.Mat(height, width, cv.CV_8UC1);
  }

  load(difference: Uint8Array): void {
    this.from.data.set(difference);
  }

  /** Labels what is at or above `level` and returns the size of the largest region. */
  largest(level: number): number {
    cv.threshold(this.from, this.binary, level - 1, 255, cv.THRESH_BINARY);
    const labels = cv.connectedComponentsWithStats(
      this.binary,
      this.labels,
      this.stats,
      this.centroids,
      8,
      cv.CV_32S,
    );
    // A row of five for each label: left, top, width, height, area; label 0 is the background.
    const rows = this.stats.data32S;
    let largest = 0;
    for (let label = 1; label < labels; label++) largest = Math.max(largest, rows[5 * label + 4]!);
    return largest;
  }

  delete(): void {
    for (const mat of [this.from, this.binary, this.labels, this.stats, this.centroids]) mat.delete();
  }
}

function through(
  images: Uint8Array[],
  width: number,
  height: number,
  operation: (from: Mat[], to: Mat) => void,
): Uint8Array {
  const from = images.map((image) => {
    const mat = new cv.Mat(height, width, cv.CV_8UC1);
    mat.data.set(image);
    return mat;
  });
  const to = new cv.Mat();
  operation(from, to);
  const result = to.data.slice();
  for (const mat of [...from, to]) mat.delete();
  return result;
}
