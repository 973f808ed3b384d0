import { Problem } from '../base/problem.js';
import type { Look } from '../clip/look.js';
import type { Clip } from '../clip/open.js';
import { stillPicture } from '../clip/still-picture.js';
import { videoPictures } from '../clip/video-pictures.js';

/** Frames of a video that are decoded at once; runs begin at its multiples. */
const RUN = 24;
/** Stills that are decoded before they are asked for, when somebody steps through them. */
const STILLS_AHEAD = 4;
/** Decoders at work at the same time. */
const DECODERS = 2;
/** Pictures kept in memory: a minute or two of a video at the size it is shown. */
const MOST_BYTES = 96 * 2 ** 20;

interface Waiter {
  index: number;
  resolve: (jpeg: Uint8Array) => void;
  reject: (error: unknown) => void;
}

/** Frames to be decoded one after the other. */
export interface Wanted {
  clip: Clip;
  look: Look;
  first: number;
  /** The one after the last. */
  end: number;
  stop: AbortController;
}

/** Those of one clip that are decoded, or will be. */
interface Run extends Wanted {
  /** What is cut and how large, and of which recording: before the frame in the names of pictures. */
  of: string;
  /** Who waits for one of its frames; nobody, where it is decoded in advance. */
  waiters: Set<Waiter>;
}

/**
 * Pictures of frames as JPEGs. The frames around the one asked for are decoded with it, so that stepping to them takes no
 * time; the latest are kept. What nobody waits for gives way to what somebody does.
 */
export class Pictures {
  private readonly kept = new Map<string, Uint8Array>();
  private bytes = 0;
  private readonly queue: Run[] = [];
  private readonly working = new Set<Run>();
  private readonly latest = new Map<string, number>();

  constructor(private readonly decoded: (run: Wanted) => AsyncIterable<Uint8Array> = picturesOf) {}

  /**
   * @param index of a stored frame of the clip
   * @param signal aborted where nobody wants it any more
   * @throws Problem 'bad-picture' or 'bad-video'; the signal's reason
   */
  async picture(clip: Clip, index: number, look: Look, signal?: AbortSignal): Promise<Uint8Array> {
    signal?.throwIfAborted();
    const of = `${clip.contentKey} ${look.width} ${look.box?.join() ?? ''}`;
    const before = this.latest.get(of);
    this.latest.clear();
    this.latest.set(of, index);
    const kept = this.take(nameOf(of, index));
    const asked = kept ?? this.waitFor(clip, look, of, index, signal);
    if (look.box === null) this.lookAhead(clip, look, of, index, before ?? index);
    this.work();
    return asked;
  }

  private waitFor(
    clip: Clip,
    look: Look,
    of: string,
    index: number,
    signal?: AbortSignal,
  ): Promise<Uint8Array> {
    const run = this.runWith(of, index) ?? this.enqueue(clip, look, of, index);
    return new Promise((resolve, reject) => {
      const leave = () => {
        run.waiters.delete(waiter);
        reject(signal?.reason);
        if (run.waiters.size === 0) this.giveUp(run);
      };
      const waiter: Waiter = {
        index,
        resolve: (jpeg) => {
          signal?.removeEventListener('abort', leave);
          resolve(jpeg);
        },
        reject: (error) => {
          signal?.removeEventListener('abort', leave);
          reject(error);
        },
      };
      run.waiters.add(waiter);
      signal?.addEventListener('abort', leave, { once: true });
    });
  }

  /** The run that will give a frame, if there is one. */
  private runWith(of: string, index: number): Run | undefined {
    return [...this.working, ...this.queue].find(
      (run) => run.of === of && run.first <= index && index < run.end && !run.stop.signal.aborted,
    );
  }

  /** A run of the frames around one, without those that are kept already at its beginning. */
  private enqueue(clip: Clip, look: Look, of: string, index: number): Run {
    const isVideo = clip.source.kind === 'video' && look.box === null;
    let first = isVideo ? index - (index % RUN) : index;
    const end = isVideo ? Math.min(clip.times.length, first + RUN) : index + 1;
    while (first < index && this.kept.has(nameOf(of, first))) first++;
    const run: Run = { clip, look, of, first, end, waiters: new Set(), stop: new AbortController() };
    this.queue.push(run);
    return run;
  }

  /** Decodes what will be asked for next if things go on as they do; what was to be decoded in advance before is dropped. */
  private lookAhead(clip: Clip, look: Look, of: string, index: number, before: number): void {
    for (const run of this.queue.filter(({ waiters }) => waiters.size === 0)) this.giveUp(run);
    const steps = Math.sign(index - before);
    const wanted: number[] = [];
    if (clip.source.kind === 'video') {
      const nearer = index % RUN < RUN / 2 ? -1 : 1;
      wanted.push(index + (steps === 0 ? nearer : steps) * RUN);
    } else if (steps !== 0 && Math.abs(index - before) <= STILLS_AHEAD) {
      for (let i = 1; i <= STILLS_AHEAD; i++) wanted.push(index + steps * i);
    }
    for (const frame of wanted) {
      const place = Math.min(clip.times.length - 1, Math.max(0, frame));
      if (!this.kept.has(nameOf(of, place)) && !this.runWith(of, place)) this.enqueue(clip, look, of, place);
    }
  }

  private giveUp(run: Run): void {
    run.stop.abort();
    const at = this.queue.indexOf(run);
    if (at >= 0) this.queue.splice(at, 1);
  }

  /** Starts what there are decoders for, first what somebody waits for. */
  private work(): void {
    for (;;) {
      const at = Math.max(
        0,
        this.queue.findIndex(({ waiters }) => waiters.size > 0),
      );
      const next = this.queue[at];
      if (!next) return;
      if (this.working.size >= DECODERS) {
        // Room is made where nobody waits; it is there once that decoder has ended.
        const idle = [...this.working].find(({ waiters }) => waiters.size === 0);
        if (next.waiters.size > 0 && idle) idle.stop.abort();
        return;
      }
      this.queue.splice(at, 1);
      void this.decode(next);
    }
  }

  private async decode(run: Run): Promise<void> {
    this.working.add(run);
    let index = run.first;
    try {
      for await (const jpeg of this.decoded(run)) {
        this.keep(nameOf(run.of, index), jpeg);
        for (const waiter of [...run.waiters].filter((one) => one.index === index)) {
          run.waiters.delete(waiter);
          waiter.resolve(jpeg);
        }
        run.first = ++index;
      }
      // Whoever still waits would wait for ever.
      run.stop.signal.throwIfAborted();
      if (run.waiters.size > 0) throw endsEarly(index);
    } catch (error) {
      for (const waiter of run.waiters) waiter.reject(error);
    } finally {
      this.working.delete(run);
      this.work();
    }
  }

  private take(name: string): Uint8Array | undefined {
    const jpeg = this.kept.get(name);
    if (!jpeg) return undefined;
    this.kept.delete(name);
    this.kept.set(name, jpeg);
    return jpeg;
  }

  private keep(name: string, jpeg: Uint8Array): void {
    this.bytes += jpeg.length - (this.kept.get(name)?.length ?? 0);
    this.kept.delete(name);
    this.kept.set(name, jpeg);
    for (const [oldest, { length }] of this.kept) {
      if (this.bytes <= MOST_BYTES) return;
      this.kept.delete(oldest);
      this.bytes -= length;
    }
  }
}

function endsEarly(index: number): Problem {
  return new Problem(
    'bad-picture',
    `frame ${index}, counted from 0: the recording ends before it; open the clip again, because it may have been changed`,
  );
}

function nameOf(of: string, index: number): string {
  return `${of} ${index}`;
}

async function* picturesOf({ clip, look, first, end, stop }: Wanted): AsyncGenerator<Uint8Array> {
  const { source, width, height, keyFrames } = clip;
  if (source.kind === 'video') {
    yield* videoPictures({ source, width, height, keyFrames }, first, end - first, look, stop.signal);
    return;
  }
  for (let index = first; index < end; index++) {
    stop.signal.throwIfAborted();
    yield await stillPicture(source, { width, height }, index, look);
  }
}
