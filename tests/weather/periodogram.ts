/**
 * One-sided power spectrum of an even series by averaged periodograms (Welch 1967): mean taken off, Hann window, half
 * overlapping. Entry i belongs to i / (length * step) hertz; the sum times the spacing is the variance.
 */
export function periodogram(series: Float64Array, length: number, step: number): Float64Array {
  const window = Float64Array.from({ length }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / length));
  const power = window.reduce((s, w) => s + w * w, 0);
  const mean = series.reduce((s, v) => s + v, 0) / series.length;
  const out = new Float64Array(length / 2);
  let pieces = 0;
  for (let from = 0; from + length <= series.length; from += length / 2, pieces++) {
    const re = Float64Array.from(window, (w, i) => w * (series[from + i]! - mean));
    const im = new Float64Array(length);
    fourier(re, im);
    for (let i = 0; i < out.length; i++) out[i]! += ((re[i]! ** 2 + im[i]! ** 2) * 2 * step) / power;
  }
  return out.map((p) => p / pieces);
}

/** In place; length a power of two (Cooley & Tukey 1965). */
function fourier(re: Float64Array, im: Float64Array): void {
  const n = re.length;
  for (let i = 1, j = 0; i < n; i++) {
    let bit = n >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) [re[i], re[j]] = [re[j]!, re[i]!];
  }
  for (let size = 2; size <= n; size *= 2) {
    for (let start = 0; start < n; start += size) {
      for (let k = 0; k < size / 2; k++) {
        const angle = (-2 * Math.PI * k) / size;
        const a = start + k;
        const b = a + size / 2;
        const x = re[b]! * Math.cos(angle) - im[b]! * Math.sin(angle);
        const y = re[b]! * Math.sin(angle) + im[b]! * Math.cos(angle);
        re[b] = re[a]! - x;
        im[b] = im[a]! - y;
        re[a]! += x;
        im[a]! += y;
      }
    }
  }
}
