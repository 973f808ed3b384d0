/**
 * Linear light being painted, interleaved RGB, width * height * 3. Shapes cover pixels in part at their edges, so that a
 * movement of a tenth of a pixel shows as the small change of brightness that a lens would give.
 */
export interface Canvas {
  width: number;
  height: number;
  rgb: Float32Array;
}

export function canvas(width: number, height: number): Canvas {
  return { width, height, rgb: new Float32Array(width * height * 3) };
}

/** A leaf, pointed at both ends: half length a, half width b (pixels), its two halves lit differently. */
export function leaf(
  c: Canvas,
  x: number,
  y: number,
  angle: number,
  a: number,
  b: number,
  red: number,
  green: number,
  blue: number,
): void {
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const ex = Math.abs(cos) * a + Math.abs(sin) * b + 0.7;
  const ey = Math.abs(sin) * a + Math.abs(cos) * b + 0.7;
  const x0 = Math.max(0, Math.floor(x - ex));
  const y0 = Math.max(0, Math.floor(y - ey));
  const x1 = Math.min(c.width - 1, Math.ceil(x + ex));
  const y1 = Math.min(c.height - 1, Math.ceil(y + ey));
  const cu = cos / a;
  const su = sin / a;
  const cv = cos / b;
  const sv = sin / b;
  const d = c.rgb;
  for (let py = y0; py <= y1; py++) {
    const dy = py - y;
    let u = (x0 - x) * cu + dy * su;
    let v = dy * cv - (x0 - x) * sv;
    let i = (py * c.width + x0) * 3;
    for (let px = x0; px <= x1; px++, i += 3, u += cu, v -= sv) {
      let q = (1 - u * u - (v < 0 ? -v : v)) * b + 0.5;
      if (q <= 0) continue;
      if (q > 1) q = 1;
      const lit = v < 0 ? 1.12 : 0.84;
      d[i] = d[i]! + (red * lit - d[i]!) * q;
      d[i + 1] = d[i + 1]! + (green * lit - d[i + 1]!) * q;
      d[i + 2] = d[i + 2]! + (blue * lit - d[i + 2]!) * q;
    }
  }
}

/** A blade of grass from (x, y) upwards, row by row: leaning `lean` pixels at its tip and bent `bend` more. */
export function blade(
  c: Canvas,
  x: number,
  y: number,
  tall: number,
  wide: number,
  lean: number,
  bend: number,
  red: number,
  green: number,
  blue: number,
): void {
  const y0 = Math.max(0, Math.ceil(y - tall));
  const y1 = Math.min(c.height - 1, Math.floor(y));
  const d = c.rgb;
  for (let py = y0; py <= y1; py++) {
    const t = (y - py) / tall;
    const mid = x + lean * t + bend * t * t;
    const half = 0.5 * wide * (1 - t * t * 0.9);
    const left = mid - half;
    const right = mid + half;
    const x0 = Math.max(0, Math.floor(left + 0.5));
    const x1 = Math.min(c.width - 1, Math.floor(right + 0.5));
    const lit = 0.62 + 0.5 * t;
    for (let px = x0; px <= x1; px++) {
      const q = Math.min(px + 0.5, right) - Math.max(px - 0.5, left);
      if (q <= 0) continue;
      const i = (py * c.width + px) * 3;
      d[i] = d[i]! + (red * lit - d[i]!) * q;
      d[i + 1] = d[i + 1]! + (green * lit - d[i + 1]!) * q;
      d[i + 2] = d[i + 2]! + (blue * lit - d[i + 2]!) * q;
    }
  }
}

/** A straight stroke with round ends, `wide` pixels, of strength 0..1; `soft` pixels of blur at its edge. */
export function stroke(
  c: Canvas,
  xa: number,
  ya: number,
  xb: number,
  yb: number,
  wide: number,
  red: number,
  green: number,
  blue: number,
  strength = 1,
  soft = 1,
): void {
  const half = wide / 2;
  const reach = half + soft;
  const x0 = Math.max(0, Math.floor(Math.min(xa, xb) - reach));
  const y0 = Math.max(0, Math.floor(Math.min(ya, yb) - reach));
  const x1 = Math.min(c.width - 1, Math.ceil(Math.max(xa, xb) + reach));
  const y1 = Math.min(c.height - 1, Math.ceil(Math.max(ya, yb) + reach));
  const dx = xb - xa;
  const dy = yb - ya;
  // A stroke thinner than a pixel covers less of it.
  const full = strength * Math.min(1, wide);
  const square = dx * dx + dy * dy || 1;
  const d = c.rgb;
  for (let py = y0; py <= y1; py++) {
    for (let px = x0; px <= x1; px++) {
      let t = ((px - xa) * dx + (py - ya) * dy) / square;
      if (t < 0) t = 0;
      else if (t > 1) t = 1;
      const ex = px - xa - t * dx;
      const ey = py - ya - t * dy;
      let q = (half - Math.sqrt(ex * ex + ey * ey)) / soft + 0.5;
      if (q <= 0) continue;
      q = Math.min(1, q) * full;
      const i = (py * c.width + px) * 3;
      d[i] = d[i]! + (red - d[i]!) * q;
      d[i + 1] = d[i + 1]! + (green - d[i + 1]!) * q;
      d[i + 2] = d[i + 2]! + (blue - d[i + 2]!) * q;
    }
  }
}
