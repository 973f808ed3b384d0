import type { Labels } from '../../../score/labels.js';
import type { LabelsState } from '../../protocol.js';
import { type Conflict, merge, type Sides, sameLabels, settle } from './merge.js';
import { freshLabels } from './sheet.js';

/** Whether all that was done is on disk, and if not, why. */
export type Saved =
  | { kind: 'saved' }
  | { kind: 'saving' }
  /** The server does not answer, or refuses; it is tried again. */
  | { kind: 'waiting'; why: string }
  /** Somebody else changed the same thing in the file. */
  | { kind: 'asked'; conflict: Conflict };

/** What was done and is not on disk yet: enough to do it again on whatever is there then. */
export interface Unsaved {
  base: Labels;
  labels: Labels;
}

/** What a saver needs of the world. */
export interface SaverPorts {
  /** @throws Changed where the file is not what `base` names, anything else where it could not be written */
  put(labels: Labels, base: string): Promise<LabelsState>;
  get(): Promise<LabelsState>;
  /** Until it is worth trying again; `tries` counts from 1. */
  pause(tries: number): Promise<void>;
  /** Puts aside what is not on disk yet, where a killed browser leaves it; null: all is on disk. */
  keep(unsaved: Unsaved | null): void;
  tell(saved: Saved): void;
  /** What is said now. */
  mine(): Labels;
  /** Labels that hold what came from outside too; `sides` are what both came from. */
  adopt(merged: Labels, sides: Sides): void;
}

/** The file on disk is not what was changed here. */
export class Changed extends Error {
  constructor(readonly state: LabelsState) {
    super('labels.json was changed meanwhile');
  }
}

/**
 * Saves labels: every change at once, one at a time, the latest next; what was changed on disk meanwhile is put together with
 * what was changed here, or asked about, and never overwritten. It never gives up.
 */
export class Saver {
  private running = false;
  /** Writes that have begun: what was read before one of them is no longer what is on disk. */
  private writes = 0;
  /** What is asked about: what both sides come from, the file's revision that `theirs` is of, and the file itself. */
  private asked: { base: Labels; theirs: Labels; disk: LabelsState } | null = null;
  /** What was last known to be on disk. */
  private base: Labels;
  private revision: string;

  constructor(
    disk: LabelsState,
    private readonly ports: SaverPorts,
  ) {
    this.base = disk.labels ?? freshLabels;
    this.revision = disk.revision;
  }

  /** To be called after every change. */
  changed(): void {
    this.ports.keep(this.unsaved());
    if (this.asked) this.ask();
    else void this.run();
  }

  /** Looks whether the file was changed meanwhile. */
  async look(): Promise<void> {
    if (this.running || this.asked) return;
    const { writes } = this;
    const disk = await this.ports.get().catch(() => null);
    if (!disk || this.writes !== writes || this.running || this.asked || disk.revision === this.revision)
      return;
    this.outside(disk);
    if (!this.asked) void this.run();
  }

  /** The owner's answer to what is asked. */
  settle(conflict: Conflict, keep: 'mine' | 'theirs'): void {
    if (!this.asked) return;
    const { base, theirs, disk } = this.asked;
    const mine = this.ports.mine();
    const settled = settle({ base, mine, theirs }, conflict, keep);
    this.asked = { base: settled.base, theirs: settled.theirs, disk };
    this.ports.adopt(settled.mine, { base: mine, mine, theirs: mine });
    this.ask();
    if (!this.asked) void this.run();
  }

  /** The same labels edited elsewhere, from `base` to what is said now, are put together with what was said before: `theirs`. */
  contest(base: Labels, theirs: Labels): void {
    if (this.running || this.asked) return;
    this.asked = { base, theirs, disk: { labels: this.base, revision: this.revision, file: '' } };
    this.ask();
    if (!this.asked) void this.run();
  }

  private unsaved(): Unsaved | null {
    const labels = this.ports.mine();
    return sameLabels(labels, this.base) ? null : { base: this.base, labels };
  }

  private async run(): Promise<void> {
    if (this.running) return;
    this.running = true;
    let tries = 0;
    for (let left = this.unsaved(); left && !this.asked; left = this.unsaved()) {
      if (tries === 0) this.ports.tell({ kind: 'saving' });
      try {
        this.writes++;
        const { revision } = await this.ports.put(left.labels, this.revision);
        this.base = left.labels;
        this.revision = revision;
        tries = 0;
      } catch (error) {
        if (error instanceof Changed) {
          this.outside(error.state);
          continue;
        }
        this.ports.tell({ kind: 'waiting', why: (error as Error).message });
        await this.ports.pause(++tries);
      }
    }
    this.running = false;
    this.ports.keep(this.unsaved());
    if (!this.asked) this.ports.tell({ kind: 'saved' });
  }

  /** The file says something else than was known: put together, or asked about. */
  private outside(disk: LabelsState): void {
    if (disk.revision === '') {
      // The file was taken away: what is known here is all that is left, and is written when something is changed again.
      this.revision = '';
      return;
    }
    this.asked = { base: this.base, theirs: disk.labels ?? freshLabels, disk };
    this.ask();
  }

  /** Asks about the first conflict; where there is none left, both are put together. */
  private ask(): void {
    if (!this.asked) return;
    const { base, theirs, disk } = this.asked;
    const mine = this.ports.mine();
    const { labels, conflicts } = merge(base, mine, theirs);
    if (conflicts[0]) {
      this.ports.tell({ kind: 'asked', conflict: conflicts[0] });
      return;
    }
    this.asked = null;
    this.base = disk.labels ?? freshLabels;
    this.revision = disk.revision;
    this.ports.adopt(labels, { base, mine, theirs });
    this.ports.keep(this.unsaved());
  }
}
