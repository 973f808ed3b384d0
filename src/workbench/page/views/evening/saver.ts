import type { MarksState } from '../../../evening-protocol.js';
import { merged, type Seens, sameSeens } from './merged.js';

/** Whether the marks are on disk. */
export type MarksSaved = { kind: 'saved' } | { kind: 'saving' } | { kind: 'waiting'; why: string };

/** What a page leaves in the browser until its marks are on disk. */
export interface Unsaved {
  base: [string, string][];
  mine: [string, string][];
}

export interface SaverPorts {
  /** @returns what is on disk then, and whether that is what was given. @throws Error with one line on why not */
  put(marks: Seens, base: string): Promise<{ state: MarksState; written: boolean }>;
  mine(): Seens;
  /** Takes over what others marked meanwhile. */
  adopt(marks: Seens): void;
  /** Puts aside what is not on disk; null: all is. */
  keep(unsaved: Unsaved | null): void;
  tell(saved: MarksSaved): void;
  /** @param tries how many failed, from 1 */
  pause(tries: number): Promise<void>;
}

/** Writes marks as they are made, again and again until they are on disk. */
export class MarksSaver {
  private base: Seens;
  private revision: string;
  private isDirty = false;
  private running: Promise<void> | null = null;

  constructor(
    { marks, revision }: MarksState,
    private readonly ports: SaverPorts,
  ) {
    this.base = new Map(marks);
    this.revision = revision;
  }

  /** Something was marked. */
  changed(): void {
    this.isDirty = true;
    this.ports.keep({ base: [...this.base], mine: [...this.ports.mine()] });
    this.running ??= this.run().finally(() => {
      this.running = null;
    });
  }

  /** Resolves when all is on disk, or cannot be for now. */
  async settled(): Promise<void> {
    await Promise.race([this.running, this.failed()]);
  }

  private fails: (() => void)[] = [];

  private failed(): Promise<void> {
    return new Promise((done) => this.fails.push(done));
  }

  private async run(): Promise<void> {
    const { ports } = this;
    for (let tries = 0; this.isDirty; ) {
      this.isDirty = false;
      const sent = ports.mine();
      if (tries === 0) ports.tell({ kind: 'saving' });
      try {
        const { state, written } = await ports.put(sent, this.revision);
        this.revision = state.revision;
        tries = 0;
        if (written) this.base = sent;
        else this.meet(new Map(state.marks));
      } catch (error) {
        this.isDirty = true;
        ports.tell({ kind: 'waiting', why: (error as Error).message });
        for (const fail of this.fails.splice(0)) fail();
        await ports.pause(++tries);
      }
    }
    ports.keep(null);
    ports.tell({ kind: 'saved' });
    this.fails = [];
  }

  /** Somebody else wrote meanwhile: what they marked is here too. */
  private meet(theirs: Seens): void {
    const both = merged(this.base, this.ports.mine(), theirs);
    this.base = theirs;
    this.ports.adopt(both);
    this.isDirty = !sameSeens(both, theirs);
  }
}
