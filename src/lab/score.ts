import type { CauseName } from '../diagnose/diagnosis.js';
import { outputs } from '../diagnose/triggers/model/network.js';

/** How well causes were told. */
export interface Judgement {
  /** Rows: true causes; columns: what was said; in the order of `outputs`. */
  confusion: number[][];
  f1: number[];
  macroF1: number;
  accuracy: number;
}

export function judged(truth: readonly CauseName[], said: readonly CauseName[]): Judgement {
  const place = (cause: CauseName) => outputs.indexOf(cause);
  const confusion = outputs.map(() => outputs.map(() => 0));
  truth.forEach((cause, i) => {
    (confusion[place(cause)] as number[])[place(said[i] as CauseName)]! += 1;
  });
  const f1 = outputs.map((_, c) => {
    const right = confusion[c]![c]!;
    const all = confusion[c]!.reduce((a, b) => a + b, 0) + confusion.reduce((sum, row) => sum + row[c]!, 0);
    return all === 0 ? 0 : (2 * right) / all;
  });
  const right = confusion.reduce((sum, row, c) => sum + row[c]!, 0);
  return {
    confusion,
    f1,
    macroF1: f1.reduce((a, b) => a + b, 0) / f1.length,
    accuracy: right / Math.max(1, truth.length),
  };
}

/** Stated probability against how often it was right, in bands of a tenth. */
export interface Band {
  from: number;
  n: number;
  stated: number;
  right: number;
}

/** Bands of stated probability, and the expected calibration error (Naeini et al. 2015, Proc. AAAI, 2901-2907). */
export function calibration(
  stated: readonly number[],
  right: readonly boolean[],
): { bands: Band[]; error: number } {
  const bands: Band[] = [];
  for (let b = 0; b < 10; b++) {
    const inside = stated.flatMap((p, i) => (Math.min(9, Math.floor(10 * p)) === b ? [i] : []));
    if (inside.length === 0) continue;
    const mean = (of: (i: number) => number) => inside.reduce((sum, i) => sum + of(i), 0) / inside.length;
    bands.push({
      from: b / 10,
      n: inside.length,
      stated: mean((i) => stated[i]!),
      right: mean((i) => (right[i] ? 1 : 0)),
    });
  }
  const error =
    bands.reduce((sum, b) => sum + b.n * Math.abs(b.stated - b.right), 0) / Math.max(1, stated.length);
  return { bands, error };
}
