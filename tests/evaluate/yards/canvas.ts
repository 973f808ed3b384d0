/** Linear light, one number a pixel; what is drawn covers what was there before. */
export class Canvas {
  readonly light: Float32Array;

  constructor(
    readonly width: number,
    readonly height: number,
  ) {
    this.light = new Float32Array(width * height);
  }

  /** Lays `value` over one pixel by a share of it. */
  lay(x: number, y: number, share: number, value: number): void {
    const i = y * this.width + x;
    const was = this.light[i]!;
    this.light[i] = was + share * (value - was);
  }

  /** A straight stroke, `wide` at its start and `narrow` at its end, with soft edges; thinner than a pixel it is fainter. */
  stroke(
    x0: number,
    y0: number,
    x1: number,
    y1: number,
    wide: number,
    narrow: number,
    value: number,
    alpha = 1,
  ): void {
    const [dx, dy] = [x1 - x0, y1 - y0];
    const length = Math.sqrt(dx * dx + dy * dy);
    if (length < 0.01) return;
    const upright = Math.abs(dy) >= Math.abs(dx);
    const [from, to] = upright ? [Math.min(y0, y1), Math.max(y0, y1)] : [Math.min(x0, x1), Math.max(x0, x1)];
    const most = (upright ? this.height : this.width) - 1;
    const side = (upright ? this.width : this.height) - 1;
    const lean = length / (upright ? Math.abs(dy) : Math.abs(dx));
    for (let a = Math.max(0, Math.floor(from)); a <= Math.min(most, Math.ceil(to)); a++) {
      const end = Math.min(1, a + 0.5 - from, to + 0.5 - a);
      if (end <= 0) continue;
      const t = Math.min(1, Math.max(0, upright ? (a - y0) / dy : (a - x0) / dx));
      const middle = upright ? x0 + t * dx : y0 + t * dy;
      const thick = wide + (narrow - wide) * t;
      const half = (Math.max(1, thick) * lean) / 2;
      const share = alpha * end * Math.min(1, thick);
      for (
        let b = Math.max(0, Math.floor(middle - half));
        b <= Math.min(side, Math.ceil(middle + half));
        b++
      ) {
        const cover = Math.min(1, half + 0.5 - Math.abs(b - middle));
        if (cover > 0) this.lay(upright ? b : a, upright ? a : b, share * cover, value);
      }
    }
  }

  /**
   * A leaf from its stalk at x, y: `long` along `angle`, `wide` across, pointed at both ends (between two parabolas);
   * `round` 1 makes it an ellipse.
   */
  leaf(x: number, y: number, angle: number, long: number, wide: number, value: number, alpha = 1): void {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const [a, b] = [Math.max(0.5, long / 2), Math.max(0.5, wide / 2)];
    this.#shape(x + c * a, y + s * a, c, s, a, b, alpha * Math.min(1, long) * Math.min(1, wide), value, true);
  }

  /** An ellipse about x, y with half axes a, b. */
  blob(x: number, y: number, a: number, b: number, angle: number, value: number, alpha = 1): void {
    const fade = alpha * Math.min(1, 2 * a) * Math.min(1, 2 * b);
    const [p, q] = [Math.max(0.5, a), Math.max(0.5, b)];
    this.#shape(x, y, Math.cos(angle), Math.sin(angle), p, q, fade, value, false);
  }

  /** A filled shape of four corners, in order, without soft edges but for every pixel's four samples. */
  fill(corners: readonly (readonly [number, number])[], value: number, alpha = 1): void {
    const ys = corners.map(([, y]) => y);
    const top = Math.max(0, Math.floor(Math.min(...ys)));
    const bottom = Math.min(this.height - 1, Math.ceil(Math.max(...ys)));
    for (let y = top; y <= bottom; y++) {
      for (const sub of [0.25, 0.75]) {
        const crossings: number[] = [];
        corners.forEach(([ax, ay], i) => {
          const [bx, by] = corners[(i + 1) % corners.length]!;
          const at = y - 0.5 + sub;
          if (ay <= at !== by <= at) crossings.push(ax + ((at - ay) / (by - ay)) * (bx - ax));
        });
        crossings.sort((p, q) => p - q);
        for (let k = 0; k + 1 < crossings.length; k += 2) {
          const [l, r] = [crossings[k]!, crossings[k + 1]!];
          for (let x = Math.max(0, Math.floor(l)); x <= Math.min(this.width - 1, Math.ceil(r)); x++) {
            const cover = Math.min(1, Math.min(x + 0.5, r) - Math.max(x - 0.5, l));
            // Two samples a row: each covers half of what is left to the other.
            if (cover > 0) this.lay(x, y, alpha * (sub < 0.5 ? cover / 2 : cover / (2 - cover)), value);
          }
        }
      }
    }
  }

  /** A leaf or an ellipse about x, y: half axes a and b, the first along (c, s). */
  #shape(
    x: number,
    y: number,
    c: number,
    s: number,
    a: number,
    b: number,
    fade: number,
    value: number,
    pointed: boolean,
  ): void {
    const { light, width } = this;
    const wide = Math.sqrt((a * c) ** 2 + (b * s) ** 2) + 1;
    const tall = Math.sqrt((a * s) ** 2 + (b * c) ** 2) + 1;
    const left = Math.max(0, Math.ceil(x - wide));
    const right = Math.min(width - 1, Math.floor(x + wide));
    const bottom = Math.min(this.height - 1, Math.floor(y + tall));
    const small = Math.min(a, b);
    for (let j = Math.max(0, Math.ceil(y - tall)); j <= bottom; j++) {
      for (let i = left; i <= right; i++) {
        const [dx, dy] = [i - x, j - y];
        const u = (dx * c + dy * s) / a;
        const v = (dy * c - dx * s) / b;
        const inside = pointed
          ? (1 - u * u - Math.abs(v)) * b + 0.5
          : (1 - Math.sqrt(u * u + v * v)) * small + 0.5;
        if (inside <= 0) continue;
        const k = j * width + i;
        light[k]! += (inside < 1 ? inside * fade : fade) * (value - light[k]!);
      }
    }
  }
}
