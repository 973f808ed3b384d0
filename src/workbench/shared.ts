import type { OpenPorts } from '../jobs/ports.js';

/** A job that several wait for: each is told how it goes, and it is stopped when none of them wants it any more. */
export class Shared<T> {
  private readonly told = new Set<OpenPorts>();
  private readonly stop = new AbortController();
  private readonly result: Promise<T>;

  constructor(cache: OpenPorts['cache'], job: (ports: OpenPorts) => Promise<T>) {
    const each = (tell: (ports: OpenPorts) => void) => {
      for (const ports of this.told) tell(ports);
    };
    // Begun once the first has joined, so that nothing is told to nobody.
    this.result = Promise.resolve().then(() =>
      job({
        cache,
        signal: this.stop.signal,
        onPhase: (what) => each(({ onPhase }) => onPhase(what)),
        onProgress: (...reached) => each(({ onProgress }) => onProgress(...reached)),
        onWarning: (line) => each(({ onWarning }) => onWarning(line)),
      }),
    );
    this.result.catch(() => undefined);
  }

  /** Whether nobody wanted it any more before it was done. */
  get stopped(): boolean {
    return this.stop.signal.aborted;
  }

  /** @throws whatever the job throws; the signal's reason */
  async join(ports: OpenPorts): Promise<T> {
    const { signal } = ports;
    signal?.throwIfAborted();
    this.told.add(ports);
    let leave = (): void => undefined;
    const left = new Promise<never>((_, reject) => {
      leave = () => {
        this.told.delete(ports);
        if (this.told.size === 0) this.stop.abort(signal?.reason);
        reject(signal?.reason);
      };
    });
    signal?.addEventListener('abort', leave, { once: true });
    try {
      return await Promise.race([this.result, left]);
    } finally {
      signal?.removeEventListener('abort', leave);
      this.told.delete(ports);
    }
  }
}
