import { Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';
import type { Camera } from '../../camera/description.js';
import type { ResolvedSettings } from '../../camera/settings.js';
import { type Clip, luminanceFrames } from '../../clip/open.js';
import { analysedFrames } from '../../measure/analysed.js';
import type { ReadingOptions } from '../../measure/evidence.js';
import { Child, type Ending } from './child.js';
import { wordsOf } from './command.js';
import { frameLine, head, TriggerLines } from './protocol.js';

/** Seconds without progress after which a program is taken to hang. */
export const PATIENCE = 60;

/** So many times within its patience it is looked after a program: a stop of this process (Ctrl-Z) counts as one. */
const LOOKS = 10;

/** A program of the user's that reads frames and prints when it fires. */
export interface Firmware {
  /** Its command line. */
  command: string;
  /** Seconds that it may take without taking a frame or firing; left out: `PATIENCE`. */
  patience?: number | undefined;
  /** Whether frames keep the clip's own pixel size; else they are brought to the camera's analysis size. */
  fullSize?: boolean | undefined;
}

/**
 * Trigger times of one clip by a program, seconds: started for this clip alone, given the frames that the camera would look at,
 * as fast as it takes them.
 * @throws Problem 'usage' or 'bad-firmware' for anything wrong with the program; the signal's reason when aborted
 */
export async function replayFirmware(
  clip: Clip,
  camera: Camera,
  settings: ResolvedSettings,
  firmware: Firmware,
  { signal, onProgress, onWarning }: Omit<ReadingOptions, 'cache'>,
): Promise<number[]> {
  const [program, ...words] = wordsOf(firmware.command);
  const { indices, times } = analysedFrames(clip, camera);
  const size = firmware.fullSize ? { width: clip.width, height: clip.height } : camera.analysis;
  const lines = new TriggerLines(times);
  signal?.throwIfAborted();
  const child = await Child.start(program, words, (piece) => lines.take(piece));
  const waiting = new Waiting(child, lines, firmware.patience ?? PATIENCE, signal);
  const faultAt = (frame: number, ending: Ending) =>
    endedBadly(child, ending, `at frame ${frame} of ${indices.length}`);
  try {
    child.push(head({ size, camera, settings, mask: settings.mask ?? clip.labels?.mask ?? [] }));
    let k = 0;
    for await (const y of luminanceFrames(clip, indices, size, signal)) {
      lines.give();
      child.push(frameLine(k, times[k]!, y.length));
      const early = await waiting.for(Promise.race([child.write(y), child.ended]), `frame ${k}`);
      if (early || child.inputClosed) throw faultAt(k, early ?? (await waiting.for(child.ended, 'its end')));
      onProgress?.(++k, indices.length);
    }
    child.endInput();
    const ending = await waiting.for(child.ended, 'the end of its input');
    if (ending.code !== 0) throw faultAt(k, ending);
    lines.end();
  } catch (error) {
    throw told(error, clip, firmware);
  } finally {
    child.close();
  }
  if (child.lastSaid !== '') {
    onWarning?.(`the command said ${quoted(child.lastSaid)} (the last of ${child.saidLines} lines)`);
  }
  return lines.times;
}

/** Waits for a program as long as it makes progress. */
class Waiting {
  constructor(
    private readonly child: Child,
    private readonly lines: TriggerLines,
    /** Seconds. */
    private readonly patience: number,
    private readonly signal: AbortSignal | undefined,
  ) {}

  /**
   * @param at what it was given last, for messages
   * @throws Problem where it takes too long without firing; what is wrong with its output; the signal's reason
   */
  async for<T>(what: Promise<T>, at: string): Promise<T> {
    let timer: NodeJS.Timeout | undefined;
    let abort: (() => void) | undefined;
    const late = new Promise<never>((_, reject) => {
      let fired = this.lines.times.length;
      let looks = 0;
      timer = setInterval(
        () => {
          looks = this.lines.times.length > fired ? 0 : looks + 1;
          fired = this.lines.times.length;
          if (looks === LOOKS) reject(hangs(this.child, this.patience, at));
        },
        (1000 * this.patience) / LOOKS,
      );
    });
    const aborted = new Promise<never>((_, reject) => {
      abort = () => reject(this.signal?.reason);
      this.signal?.addEventListener('abort', abort);
    });
    try {
      return await Promise.race([what, this.child.failed(), late, aborted]);
    } finally {
      clearInterval(timer);
      if (abort) this.signal?.removeEventListener('abort', abort);
    }
  }
}

function hangs(child: Child, patience: number, at: string): Problem {
  return new Problem(
    'bad-firmware',
    `expected it to take frames, to fire or to end, found nothing of that for ${patience} s after ${at}${saidBy(child)}; mend it, or wait longer with --patience SECONDS`,
  );
}

function endedBadly(child: Child, { code, signal }: Ending, at: string): Problem {
  const how = signal === null ? `with exit code ${code}` : `by the signal ${signal}`;
  const expected = 'expected it to read to the end of its input and end with exit code 0';
  const next =
    code === 0 ? 'let it read to the end, because what it does not look at is not tried' : 'mend it';
  return new Problem(
    'bad-firmware',
    `${expected}, found that it ended ${how} ${at}${saidBy(child)}; ${next}`,
  );
}

function saidBy({ lastSaid }: Child): string {
  return lastSaid === '' ? '' : ` (it said last: ${quoted(lastSaid)})`;
}

/** Names the command and the clip before what was wrong. */
function told(error: unknown, { dir }: Clip, { command }: Firmware): unknown {
  if (!(error instanceof Problem) || error.code !== 'bad-firmware') return error;
  return new Problem('bad-firmware', `--camera-command ${quoted(command)}: ${dir}: ${error.message}`);
}
