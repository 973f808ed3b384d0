/** The strongest rhythm of a series. */
export interface Rhythm {
  hertz: number;
  /** Share of the series' variance that this rhythm, a little faster and slower, explains. */
  share: number;
  /** Half the mean rate of the series, hertz: nothing faster can be told. */
  limit: number;
}

/** Frequencies looked at for each one that the length of the series can tell apart. */
const FINER = 4;

/**
 * The strongest rhythm in a series at rising, maybe uneven, times: the normalised periodogram of Lomb (1976, Astrophys.
 * Space Sci. 39:447-462) and Scargle (1982, Astrophys. J. 263:835-853), of the series without its mean and slope.
 * Null where there are fewer than eight values or they do not vary.
 *
 * @param times seconds
 */
export function rhythm(times: ArrayLike<number>, values: ArrayLike<number>): Rhythm | null {
  const n = values.length;
  const length = n > 1 ? times[n - 1]! - times[0]! : 0;
  if (n < 8 || !(length > 0)) return null;
  const rest = levelled(times, values);
  const total = rest.reduce((sum, v) => sum + v * v, 0);
  if (total < 1e-9) return null;
  const limit = (n - 1) / length / 2;
  const step = 1 / length / FINER;
  // From two swings within the series on: fewer are a drift.
  const first = 2 * FINER;
  const powers = explained(times, rest, step, first, Math.floor(limit / step + 1e-9));
  if (powers.length === 0) return null;
  const best = powers.reduce((top, p, i) => (p > powers[top]! ? i : top), 0);
  return { hertz: (first + best) * step, share: Math.min(1, powers[best]! / total), limit };
}

/**
 * Sums of squares that sines of step * first .. step * last hertz explain: the least-squares fit of a sine and a cosine,
 * which is Lomb's without his shift of time. Each value's angle is turned on by one step from frequency to frequency.
 */
function explained(
  times: ArrayLike<number>,
  values: Float64Array,
  step: number,
  first: number,
  last: number,
): number[] {
  const n = values.length;
  const angle = (i: number, f: number) => 2 * Math.PI * f * step * (times[i]! - times[0]!);
  const cos = Float64Array.from({ length: n }, (_, i) => Math.cos(angle(i, first)));
  const sin = Float64Array.from({ length: n }, (_, i) => Math.sin(angle(i, first)));
  const turnCos = Float64Array.from({ length: n }, (_, i) => Math.cos(angle(i, 1)));
  const turnSin = Float64Array.from({ length: n }, (_, i) => Math.sin(angle(i, 1)));
  const powers: number[] = [];
  for (let f = first; f <= last; f++) {
    let [yc, ys, cc, ss, cs] = [0, 0, 0, 0, 0];
    for (let i = 0; i < n; i++) {
      const c = cos[i]!;
      const s = sin[i]!;
      const v = values[i]!;
      yc += v * c;
      ys += v * s;
      cc += c * c;
      ss += s * s;
      cs += c * s;
      cos[i] = c * turnCos[i]! - s * turnSin[i]!;
      sin[i] = s * turnCos[i]! + c * turnSin[i]!;
    }
    const scale = cc * ss - cs * cs;
    // At half the rate of an even series the sine vanishes, and the cosine alone is left to fit.
    const alone = cc > ss ? (yc * yc) / Math.max(cc, 1e-9) : (ys * ys) / Math.max(ss, 1e-9);
    powers.push(scale > 1e-6 * n * n ? (yc * yc * ss - 2 * yc * ys * cs + ys * ys * cc) / scale : alone);
  }
  return powers;
}

/** The values without the straight line that fits them best. */
function levelled(times: ArrayLike<number>, values: ArrayLike<number>): Float64Array {
  const n = values.length;
  let [st, sv] = [0, 0];
  for (let i = 0; i < n; i++) {
    st += times[i]!;
    sv += values[i]!;
  }
  const [mt, mv] = [st / n, sv / n];
  let [tt, tv] = [0, 0];
  for (let i = 0; i < n; i++) {
    tt += (times[i]! - mt) ** 2;
    tv += (times[i]! - mt) * (values[i]! - mv);
  }
  const slope = tt > 0 ? tv / tt : 0;
  return Float64Array.from({ length: n }, (_, i) => values[i]! - mv - slope * (times[i]! - mt));
}
