import { nearestPlace } from '../../base/nearest.js';
import { Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';
import type { Camera } from '../../camera/description.js';
import type { Settings } from '../../camera/settings.js';
import type { Polygon } from '../../engine/mask.js';

/** Of what is sent and answered; raised with any change that a program of yesterday would not understand. */
const PROTOCOL = 1;

/** How far the time of a trigger may be from that of the frame that it means, in seconds: three decimals are enough. */
export const NEAR = 0.0005;

/** Characters of a line of output. No number is longer. */
const LONGEST = 100;

/** A time in seconds: digits, with a point and a power of ten where it has them, and blanks around it. */
const TIME = /^[ \t]*\d+(?:\.\d*)?(?:[eE][+-]?\d+)?[ \t]*\r?$/;

export interface HeadInput {
  /** Of the frames that follow, pixels. */
  size: { width: number; height: number };
  camera: Camera;
  settings: Settings;
  mask: readonly Polygon[];
}

/** The two lines that come before the frames: what these are, and under which settings, as JSON. */
export function head({ size, camera, settings, mask }: HeadInput): string {
  const { threshold, minimumArea, mostChanged, persistence, cooldown } = settings;
  const { analysis, reference, area, shutterLag, burst } = camera;
  const under = {
    settings: { threshold, minimumArea, mostChanged, persistence, cooldown },
    mask,
    camera: { analysis, reference, area, shutterLag, burst },
  };
  return `perchmark-frames ${PROTOCOL} ${size.width} ${size.height} ${analysis.rate}\n${JSON.stringify(under)}\n`;
}

/** The line before the bytes of a frame. */
export function frameLine(number: number, time: number, bytes: number): string {
  return `${number} ${time.toFixed(9).replace(/\.?0+$/, '')} ${bytes}\n`;
}

/** What a program printed, line by line: the times at which it fired. */
export class TriggerLines {
  /** Seconds from the clip's start, rising; those of frames, but for triggers that lie between two. */
  readonly times: number[] = [];
  private given = -1;
  private rest = '';

  /** @param frameTimes of all frames that the program is given, rising, seconds */
  constructor(private readonly frameTimes: Float64Array) {}

  /** Says that from now on the program may know one frame more. */
  give(): void {
    this.given++;
  }

  /**
   * Takes the next piece of output.
   * @throws Problem 'bad-firmware' for the first line that is not the time of a new trigger
   */
  take(piece: string): void {
    const lines = `${this.rest}${piece}`.split('\n');
    this.rest = lines.pop()!;
    for (const line of lines) this.line(line);
    if (this.rest.length > LONGEST) this.line(this.rest);
  }

  /** Says that nothing comes after: a last line needs no end. */
  end(): void {
    if (this.rest !== '') this.line(this.rest);
    this.rest = '';
  }

  private line(line: string): void {
    const number = this.times.length + 1;
    const refuse = (expected: string, found: string, next: string): never => {
      throw new Problem(
        'bad-firmware',
        `line ${number} of its output: expected ${expected}, found ${found}; ${next}`,
      );
    };
    const printed = Number(line);
    if (line.length > LONGEST || !TIME.test(line) || !Number.isFinite(printed)) {
      refuse(
        'the time of a trigger in seconds, alone on its line',
        quoted(line),
        'print all else on standard error',
      );
    }
    const last = this.frameTimes[this.given];
    if (last === undefined || printed > last + NEAR) {
      refuse(
        'a time that it has seen',
        `${printed}, ${last === undefined ? 'before any frame' : `after its last frame so far, at ${last} s`}`,
        "print a trigger's time from the line of its frame",
      );
    }
    const time = this.timeMeant(printed);
    const before = this.times.at(-1);
    if (before !== undefined && time <= before) {
      refuse('times that rise', `${printed} after ${before}`, 'print each trigger once, in order');
    }
    if (number > this.given + 1) {
      refuse('at most one trigger a frame', `more than ${this.given + 1} of them`, 'print none twice');
    }
    this.times.push(time);
  }

  /** That of the frame beside it, so that a time printed with few digits compares as the frame's own. */
  private timeMeant(printed: number): number {
    const place = Math.min(this.given, nearestPlace(this.frameTimes, printed));
    const frame = this.frameTimes[place]!;
    return Math.abs(frame - printed) <= NEAR ? frame : printed;
  }
}
