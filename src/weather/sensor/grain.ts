import { normal, quickRandom } from '../../base/random.js';

/** Codes of a deviate: one byte. */
export const CODES = 256;
/** Codes to one standard deviation: they reach 4.4 to either side, farther than any of the deviates kept, and are as fine as 0.034. */
const PER_DEVIATION = 29;
/** As many places as 16 random bits tell apart. */
const PLACES = 1 << 16;
/** So many are read one after the other before the next place is drawn. */
export const RUN = 32;

/** Standard normal deviates in single bytes, to be read in runs from places drawn anew for each. */
export interface Grain {
  /** RUN may be read from any of 65,536 places. */
  codes: Uint8Array;
  /** The deviate of each code; over all codes kept their mean is 0 and their variance 1. */
  values: Float64Array;
}

let made: Grain | undefined;

/** The same for every seed: what differs is where it is read. */
export function grain(): Grain {
  made ??= make();
  return made;
}

function make(): Grain {
  const dice = quickRandom('grain', 'deviates');
  const codes = new Uint8Array(PLACES + RUN);
  const [most, middle] = [CODES - 1, CODES / 2];
  let [sum, squares] = [0, 0];
  for (let i = 0; i < PLACES; i++) {
    const code = Math.min(most, Math.max(0, Math.round(middle + PER_DEVIATION * normal(dice))));
    codes[i] = code;
    sum += code;
    squares += code * code;
  }
  codes.copyWithin(PLACES, 0, RUN);
  const mean = sum / PLACES;
  const deviation = Math.sqrt(squares / PLACES - mean ** 2);
  return { codes, values: Float64Array.from({ length: CODES }, (_, code) => (code - mean) / deviation) };
}

/** Each code several times in a row. */
export function stretched(codes: Uint8Array, times: number): Uint8Array {
  if (times === 1) return codes;
  return Uint8Array.from({ length: codes.length * times }, (_, i) => codes[Math.floor(i / times)]!);
}
