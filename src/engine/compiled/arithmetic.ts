import { ARITHMETIC } from './arithmetic-bytes.js';
import { type Assembly, assemblyHere, PAGE } from './assembly.js';

/** What arithmetic.as.ts exports; all but counts of pixels are addresses. */
interface Exports {
  grey(from: number, to: number, pixels: number): void;
  difference(a: number, b: number, to: number, pixels: number): void;
  smooth(from: number, to: number, width: number, height: number, sums: number): void;
}

/** Sixteen pixels of three bytes, which are read and written where the last of a frame stand. */
const SPARE = 64;

/**
 * Arithmetic on whole frames in WebAssembly, sixteen pixels at a time; frames are copied in and out, which takes a tenth of what
 * is spared. All results are those of the functions that call it.
 */
export class Arithmetic {
  private bytes: Uint8Array;

  private constructor(
    private readonly memory: InstanceType<Assembly['Memory']>,
    private readonly exports: Exports,
  ) {
    this.bytes = new Uint8Array(memory.buffer);
  }

  /** Null where this machine has no WebAssembly with vectors, or forbids it. */
  static here(): Arithmetic | null {
    const assembly = assemblyHere();
    if (!assembly) return null;
    try {
      const memory = new assembly.Memory({ initial: 1 });
      const { exports } = new assembly.Instance(new assembly.Module(ARITHMETIC), { env: { memory } });
      return new Arithmetic(memory, exports as Exports);
    } catch {
      // There are functions that do the same.
      return null;
    }
  }

  /** BT.601 luminance of red, green and blue, `out.length` pixels of them, rounded halves up. */
  grey(pixels: Uint8Array, out: Uint8Array): void {
    const [from, to] = this.places(pixels.length, out.length) as [number, number];
    this.bytes.set(pixels, from);
    this.exports.grey(from, to, out.length);
    this.give(to, out);
  }

  /** |a - b| of each byte. */
  difference(a: Uint8Array, b: Uint8Array, out: Uint8Array): void {
    const [first, second, to] = this.places(a.length, b.length, out.length) as [number, number, number];
    this.bytes.set(a, first);
    this.bytes.set(b, second);
    this.exports.difference(first, second, to, out.length);
    this.give(to, out);
  }

  /** Box mean of radius 1 with the edge pixel repeated, rounded to nearest. */
  smooth(y: Uint8Array, width: number, height: number, out: Uint8Array): void {
    const [from, sums, to] = this.places(y.length, 2 * width + SPARE, out.length) as [number, number, number];
    this.bytes.set(y, from);
    this.exports.smooth(from, to, width, height, sums);
    this.give(to, out);
  }

  /** Where so many bytes each may stand, with room before and behind them. */
  private places(...lengths: number[]): number[] {
    let end = SPARE;
    const starts = lengths.map((length) => {
      const start = end;
      end += 16 * Math.ceil(length / 16) + SPARE;
      return start;
    });
    const missing = end - this.bytes.length;
    if (missing > 0) {
      this.memory.grow(Math.ceil(missing / PAGE));
      this.bytes = new Uint8Array(this.memory.buffer);
    }
    return starts;
  }

  private give(from: number, out: Uint8Array): void {
    out.set(this.bytes.subarray(from, from + out.length));
  }
}

let known: Arithmetic | null | undefined;

/** The one of this thread, made when it is first asked for; null where there can be none. */
export function arithmetic(): Arithmetic | null {
  if (known === undefined) known = Arithmetic.here();
  return known;
}
