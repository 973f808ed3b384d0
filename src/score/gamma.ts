/**
 * The regularised lower incomplete gamma function P(shape, x): the share of a gamma variable of that shape and scale 1 that
 * lies below x. By its series below the middle and its continued fraction above (Abramowitz & Stegun 1964, 6.5.29 and
 * 6.5.31).
 */
export function gammaBelow(shape: number, x: number): number {
  if (x <= 0) return 0;
  const scale = Math.exp(shape * Math.log(x) - x - logGamma(shape));
  if (x < shape + 1) {
    let term = 1 / shape;
    let sum = term;
    for (let n = 1; n < 100_000 && term > 1e-17 * sum; n++) {
      term *= x / (shape + n);
      sum += term;
    }
    return Math.min(1, sum * scale);
  }
  // Lentz's way of working a continued fraction out (1976, Applied Optics 15:668-671).
  let b = x + 1 - shape;
  let c = 1e300;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < 100_000; n++) {
    const a = n * (shape - n);
    b += 2;
    d = 1 / (a * d + b);
    c = b + a / c;
    fraction *= c * d;
    if (Math.abs(c * d - 1) < 1e-15) break;
  }
  return Math.max(0, 1 - fraction * scale);
}

/** Where a share `below` of a gamma variable of scale 1 lies below, by halving. 0 for a shape of 0. */
export function gammaQuantile(shape: number, below: number): number {
  if (shape <= 0) return 0;
  let low = 0;
  let high = shape + 10 * Math.sqrt(shape) + 10;
  for (let i = 0; i < 200 && high - low > 1e-13 * high; i++) {
    const middle = (low + high) / 2;
    if (gammaBelow(shape, middle) < below) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Stirling's series, whose error is below 1e-12 from 20 on; the recurrence leads there. */
function logGamma(x: number): number {
  let shift = 0;
  let at = x;
  while (at < 20) shift += Math.log(at++);
  const series = 1 / (12 * at) - 1 / (360 * at ** 3) + 1 / (1260 * at ** 5);
  return (at - 0.5) * Math.log(at) - at + Math.log(2 * Math.PI) / 2 + series - shift;
}
