const STILL = 0;
const BRIGHTENED = 1;
const MOVED = 2;

/**
 * A picture's movement and brightening, given at the crossings of a coarse net and even in between: what sways is smooth
 * over a few pixels, and a net costs a sixteenth of a value for each pixel.
 */
export class Net {
  readonly columns: number;
  readonly rows: number;
  /** Pixels from one crossing to the next. */
  readonly mesh: number;
  /** Of each crossing: pixels by which the picture there is moved, and what its brightness is multiplied by. */
  readonly dx: Float32Array;
  readonly dy: Float32Array;
  readonly gain: Float32Array;
  readonly #before: Float32Array;
  readonly #busy: Uint8Array;
  /** The three on one line of pixels, at each column of crossings. */
  readonly #rowX: Float32Array;
  readonly #rowY: Float32Array;
  readonly #rowGain: Float32Array;

  constructor(
    readonly width: number,
    readonly height: number,
  ) {
    this.mesh = Math.max(2, Math.round(width / 80));
    this.columns = Math.ceil(width / this.mesh) + 1;
    this.rows = Math.ceil(height / this.mesh) + 1;
    this.dx = new Float32Array(this.columns * this.rows);
    this.dy = new Float32Array(this.dx.length);
    this.gain = new Float32Array(this.dx.length).fill(1);
    this.#before = new Float32Array(width * height);
    this.#busy = new Uint8Array(this.columns);
    this.#rowX = new Float32Array(this.columns);
    this.#rowY = new Float32Array(this.columns);
    this.#rowGain = new Float32Array(this.columns);
  }

  /** Moves and brightens a picture of `width * height` in place, sampling it between pixels on straight lines. */
  apply(picture: Float32Array): void {
    const { height, columns, mesh } = this;
    this.#before.set(picture);
    let busy = false;
    for (let y = 0; y < height; y++) {
      const row = Math.floor(y / mesh);
      if (y % mesh === 0) busy = this.#findBusy(row * columns);
      if (!busy) continue;
      const down = (y % mesh) / mesh;
      between(this.dx, row * columns, columns, down, this.#rowX);
      between(this.dy, row * columns, columns, down, this.#rowY);
      between(this.gain, row * columns, columns, down, this.#rowGain);
      this.#moveLine(picture, y);
    }
  }

  /** Finds what there is to do in each mesh below a row of crossings, and tells whether there is anything. */
  #findBusy(node: number): boolean {
    const { dx, dy, gain, columns } = this;
    let any = false;
    for (let column = 0; column < columns - 1; column++) {
      const a = node + column;
      const b = a + columns;
      const moved =
        dx[a] !== 0 ||
        dx[a + 1] !== 0 ||
        dx[b] !== 0 ||
        dx[b + 1] !== 0 ||
        dy[a] !== 0 ||
        dy[a + 1] !== 0 ||
        dy[b] !== 0 ||
        dy[b + 1] !== 0;
      const brightened = gain[a] !== 1 || gain[a + 1] !== 1 || gain[b] !== 1 || gain[b + 1] !== 1;
      this.#busy[column] = moved ? MOVED : brightened ? BRIGHTENED : STILL;
      any ||= moved || brightened;
    }
    return any;
  }

  /** Line y of a picture, mesh by mesh: few pixels each, so that what is the same for all of them is held outside. */
  #moveLine(picture: Float32Array, y: number): void {
    const { width, columns, mesh } = this;
    const before = this.#before;
    const busy = this.#busy;
    const rowX = this.#rowX;
    const rowY = this.#rowY;
    const rowGain = this.#rowGain;
    const mostX = width - 1.001;
    const mostY = this.height - 1.001;
    for (let column = 0, left = 0; column < columns - 1; column++, left += mesh) {
      if (busy[column] === STILL) continue;
      const end = y * width + Math.min(width, left + mesh);
      let i = y * width + left;
      let g = rowGain[column]!;
      const growG = (rowGain[column + 1]! - g) / mesh;
      if (busy[column] === BRIGHTENED) {
        for (; i < end; i++, g += growG) picture[i]! *= g;
        continue;
      }
      let fromX = left - rowX[column]!;
      let fromY = y - rowY[column]!;
      const growX = 1 - (rowX[column + 1]! - rowX[column]!) / mesh;
      const growY = -(rowY[column + 1]! - rowY[column]!) / mesh;
      const endX = fromX + mesh * growX;
      const endY = fromY + mesh * growY;
      // Clamping is slow, and only needed where something is drawn from beyond the edge.
      const inside =
        fromX >= 0 &&
        endX >= 0 &&
        fromY >= 0 &&
        endY >= 0 &&
        fromX <= mostX &&
        endX <= mostX &&
        fromY <= mostY &&
        endY <= mostY;
      for (; i < end; i++) {
        let x = fromX;
        let z = fromY;
        if (!inside) {
          x = Math.max(0, Math.min(mostX, x));
          z = Math.max(0, Math.min(mostY, z));
        }
        const ix = x | 0;
        const iy = z | 0;
        const n = iy * width + ix;
        const fx = x - ix;
        const a = before[n]!;
        const b = before[n + width]!;
        const upper = a + (before[n + 1]! - a) * fx;
        const lower = b + (before[n + width + 1]! - b) * fx;
        picture[i] = (upper + (lower - upper) * (z - iy)) * g;
        fromX += growX;
        fromY += growY;
        g += growG;
      }
    }
  }
}

/** Values at the crossings of a row, `down` of the way to those of the next. */
function between(values: Float32Array, from: number, count: number, down: number, out: Float32Array): void {
  for (let i = 0; i < count; i++) {
    const a = values[from + i]!;
    out[i] = a + (values[from + i + count]! - a) * down;
  }
}

/** Mean of a map of `width * height` values around each crossing of a net, 0 to 1 for 0 to 255. */
export function onNet(net: Net, map: Uint8Array): Float32Array {
  const { columns, rows, mesh, width, height } = net;
  const out = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      let sum = 0;
      let n = 0;
      const half = mesh / 2;
      const [left, top] = [column * mesh, row * mesh];
      for (let y = Math.max(0, top - half); y < Math.min(height, top + half); y++) {
        for (let x = Math.max(0, left - half); x < Math.min(width, left + half); x++) {
          sum += map[Math.floor(y) * width + Math.floor(x)]!;
          n++;
        }
      }
      out[row * columns + column] = n === 0 ? 0 : sum / n / 255;
    }
  }
  return out;
}
