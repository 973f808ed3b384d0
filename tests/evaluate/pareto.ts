/** A generalised Pareto tail of excesses: P(X > x) = (1 + shape x / scale)^(-1 / shape), exponential at shape 0. */
export interface Pareto {
  scale: number;
  shape: number;
}

/**
 * By probability-weighted moments (Hosking & Wallis 1987, Technometrics 29:339-349; their k is minus our shape): with
 * a0 = E[X] and a1 = E[X (1 - F)], scale = 2 a0 a1 / (a0 - 2 a1), shape = 2 - a0 / (a0 - 2 a1). Few excesses hardly tell
 * the shape: it is drawn towards `usual` as if that had been seen in `weight` of them, kept within -0.5 to 0.5 (where the
 * moments have variances), and the scale then follows from the mean. Null without an excess above 0.
 */
export function fitPareto(excesses: readonly number[], usual = 0, weight = 0): Pareto | null {
  const n = excesses.length;
  const mean = excesses.reduce((sum, x) => sum + x, 0) / n;
  if (!(mean > 0)) return null;
  const rising = [...excesses].sort((a, b) => a - b);
  const a1 = n > 1 ? rising.reduce((sum, x, i) => sum + ((n - 1 - i) / (n - 1)) * x, 0) / n : mean / 2;
  const apart = mean - 2 * a1;
  const seen = n > 1 && apart > 0 ? 2 - mean / apart : usual;
  const shape = Math.min(0.5, Math.max(-0.5, (n * seen + weight * usual) / (n + weight)));
  return { shape, scale: mean * (1 - shape) };
}

/** P(X > x), 1 below 0. */
export function paretoAbove({ scale, shape }: Pareto, x: number): number {
  if (x <= 0) return 1;
  if (Math.abs(shape) < 1e-9) return Math.exp(-x / scale);
  const inner = 1 + (shape * x) / scale;
  return inner <= 0 ? 0 : inner ** (-1 / shape);
}
