import { brightening, type Run, SIDE, type Square, seenSquare } from './squares.js';
import { no, type PhotonTransfer, type Stored, verdictOf } from './transfer-verdict.js';

export type { PhotonTransfer, Stored } from './transfer-verdict.js';

/** Fewest frames after one another that say anything. */
const FEWEST_FRAMES = 3;
/** Of the picture, looked at. */
const MOST_SQUARES = 1500;

/**
 * Photon transfer: the variance over time of places that stand still against how bright they are (EMVA 1288 R3.1, from
 * memory: K^2 sd^2 + 1/12 + K mu), from differences of frames that follow one another.
 *
 * The model lives in linear light, and pictures hold signals of a curve like sRGB's. So each grey level is taken to linear
 * light by sRGB's curve, and variance measured there, less the share of it that on the signal is rounding. Noise is put
 * onto frames through the same curve, so that at the brightness it was measured at it comes out as it was whatever the
 * camera's own curve; only what it grows to in less light rests on the curve.
 *
 * Light that changes as a whole from frame to frame is taken off. What moves is left out: squares livelier than the still
 * ones of their brightness. Squares that span many grey levels are left out too.
 */
export class StillPlaces {
  private run: Uint8Array[] = [];
  private readonly squares: Square[] = [];
  private seen = 0;
  private clipped = 0;
  private uneven = 0;
  private alike = 0;
  private pairs = 0;
  private repeated = 0;
  private frames = 0;
  private brightness = 0;

  private readonly across: number;
  private readonly down: number;
  /** Each so many squares, so that a large picture takes no longer than it must. */
  private readonly step: number;

  /**
   * @param width of the frames, pixels; the size at which noise is wanted
   * @param block width of the blocks that compression works in, where they begin at the left edge; null: none to be seen
   */
  constructor(
    private readonly width: number,
    private readonly height: number,
    private readonly block: number | null = null,
  ) {
    this.across = Math.floor(width / SIDE);
    this.down = Math.floor(height / SIDE);
    this.step = Math.ceil(Math.sqrt((this.across * this.down) / MOST_SQUARES));
  }

  /** @param y luminance, `width * height` bytes; copied */
  see(y: Uint8Array): void {
    this.frames++;
    const last = this.run.at(-1);
    if (last && same(last, y)) this.repeated++;
    else this.run.push(Uint8Array.from(y));
  }

  /** What comes next does not follow on what came. */
  restart(): void {
    if (this.run.length >= FEWEST_FRAMES) this.take(this.run);
    this.run = [];
  }

  /** What all frames seen so far come to. */
  measure(stored: Stored): PhotonTransfer {
    this.restart();
    const { frames, squares, seen, clipped, uneven, alike, pairs, brightness, across, down } = this;
    if (frames < FEWEST_FRAMES) return no(`it has ${frames === 1 ? 'one frame' : `${frames} frames`}`);
    if (seen === 0) {
      return no(
        this.repeated > 0
          ? 'its frames are alike to the last grey level, as no camera makes them'
          : 'too few of its frames follow one another',
        this.repeated > 0,
      );
    }
    const ofPicture = across * down;
    return verdictOf({ squares, seen, clipped, uneven, alike, pairs, brightness, ofPicture }, stored);
  }

  private take(frames: readonly Uint8Array[]): void {
    const { width, height, across, down, step, block } = this;
    const changes = frames.slice(1).map((y, k) => brightening(frames[k]!, y, width, height));
    const run: Run = { frames, width, changes, block };
    for (let by = 0; by < down; by += step) {
      // Not always in the same places of the blocks of compression, or none would lie at their edges.
      for (let bx = (by / step) % step; bx < across; bx += step) {
        const { light, found, alike } = seenSquare(run, by * across + bx, (by * width + bx) * SIDE);
        this.seen++;
        this.brightness += light;
        if (found === 'clipped') {
          this.clipped++;
          continue;
        }
        this.pairs += frames.length - 1;
        this.alike += alike;
        if (found === 'uneven') this.uneven++;
        else this.squares.push(found);
      }
    }
  }
}

function same(a: Uint8Array, b: Uint8Array): boolean {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
