import { createRequire } from 'node:module';

/** The part of opencv-wasm that has to do with motion. */
interface Mat {
  readonly data: Uint8Array;
  readonly data32F: Float32Array;
  delete(): void;
}
interface OpenCv {
  readonly Mat: new (rows?: number, columns?: number, type?: number) => Mat;
  readonly Size: new (width: number, height: number) => unknown;
  readonly TermCriteria: new (type: number, count: number, epsilon: number) => unknown;
  readonly CV_8UC1: number;
  readonly CV_32F: number;
  readonly TM_SQDIFF: number;
  readonly MOTION_TRANSLATION: number;
  matchTemplate(image: Mat, part: Mat, result: Mat, method: number, mask: Mat): void;
  findTransformECC(
    template: Mat,
    input: Mat,
    warp: Mat,
    motion: number,
    criteria: unknown,
    mask: Mat,
    gauss: number,
  ): number;
}

const { cv } = createRequire(import.meta.url)('opencv-wasm') as { cv: OpenCv };

export interface Grey {
  pixels: ArrayLike<number>;
  width: number;
  height: number;
}

/** Sums of squared differences of a part from every place in an image where it fits, rows from the top. */
export function squaredDifferences(image: Grey, part: Grey): Grey {
  const [from, what, result, all] = [mat(image), mat(part), new cv.Mat(), new cv.Mat()];
  cv.matchTemplate(from, what, result, cv.TM_SQDIFF, all);
  const pixels = result.data32F.slice();
  for (const m of [from, what, result, all]) m.delete();
  return { pixels, width: image.width - part.width + 1, height: image.height - part.height + 1 };
}

/** The shift of a whole picture by the enhanced correlation coefficient (Evangelidis & Psarakis 2008, IEEE TPAMI 30:1858-1865). */
export function registered(from: Grey, to: Grey): { x: number; y: number } {
  const [a, b, all] = [mat(from), mat(to), new cv.Mat()];
  const warp = new cv.Mat(2, 3, cv.CV_32F);
  warp.data32F.set([1, 0, 0, 0, 1, 0]);
  cv.findTransformECC(a, b, warp, cv.MOTION_TRANSLATION, new cv.TermCriteria(3, 200, 1e-7), all, 5);
  const shift = { x: warp.data32F[2]!, y: warp.data32F[5]! };
  for (const m of [a, b, all, warp]) m.delete();
  return shift;
}

function mat({ pixels, width, height }: Grey): Mat {
  const out = new cv.Mat(height, width, cv.CV_8UC1);
  out.data.set(Uint8Array.from(pixels));
  return out;
}
