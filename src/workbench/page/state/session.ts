import { batch, effect, signal } from '@preact/signals';
import type { Labels, Stretch } from '../../../score/labels.js';
import { union } from '../../../score/stretches.js';
import type { LabelsState, LabelsWrite } from '../../protocol.js';
import { ask, Refused } from '../link/api.js';
import { same } from './entries.js';
import { changed, type History, rebased, startedWith } from './history.js';
import { merge, type Sides, sameLabels } from './merge.js';
import { Changed, type Saved, Saver } from './saver.js';
import { isLess, withSeen } from './seen.js';
import { type Chosen, followed, freshLabels } from './sheet.js';
import { type Kept, keepUnsaved, unsavedOf } from './unsaved.js';

/** Seconds between two tries, at most. */
const PATIENCE = 5;

/** The labels of one clip while the page is open: what is said, how to go back, and what of it is on disk. */
export class Session {
  readonly history = signal<History>(startedWith(freshLabels));
  readonly saved = signal<Saved>({ kind: 'saved' });
  /** What came from outside last, in words; null: nothing. */
  readonly told = signal<string | null>(null);
  /** What earlier pages left unsaved, and nobody decided about yet; the first is asked about first. */
  readonly left = signal<readonly Kept[]>([]);
  /** Whether there is anything on disk, or came with the clip. */
  readonly there = signal(true);
  /** What is being looked at or edited; null where nothing is, or where it is no longer there. */
  readonly chosen = signal<Chosen | null>(null);
  /** What was looked through here, picture after picture. */
  private seen: Stretch[] = [];
  /** As it was found. */
  readonly first: Labels;
  private readonly saver: Saver;

  constructor(
    readonly id: string,
    disk: LabelsState,
    address: string,
  ) {
    this.first = disk.labels ?? freshLabels;
    this.history.value = startedWith(this.first);
    this.there.value = disk.labels !== null;
    this.saver = new Saver(disk, {
      put: (labels, base) => put(`${address}/labels`, { labels, base }),
      get: () => ask<LabelsState>(`${address}/labels`),
      pause: (tries) =>
        new Promise((done) => setTimeout(done, 1000 * Math.min(PATIENCE, 2 ** (tries - 1) / 2))),
      keep: (unsaved) => keepUnsaved(disk.file, unsaved),
      tell: (saved) => {
        this.saved.value = saved;
      },
      mine: () => this.history.value.now,
      adopt: (labels, sides) => this.adopt(labels, sides),
    });
    void this.offer(disk);
  }

  /** Goes on from a change. */
  change(history: History): void {
    // What the owner takes away of it is not put back.
    if (isLess(history.now.reviewed, this.history.value.now.reviewed)) this.seen = [];
    this.go(history);
  }

  /** Goes on from an undo or a redo. */
  go(history: History): void {
    if (history === this.history.value) return;
    this.take({ ...history, now: withSeen(history.now, this.seen) });
    this.there.value = true;
    this.saver.changed();
  }

  /** Notes what was looked through; it counts once something is said of the clip, and is no step that can be undone. */
  saw(stretch: Stretch): void {
    this.seen = union([...this.seen, stretch]);
  }

  /** Puts what was looked through with what is said. */
  keepSeen(): void {
    const { value } = this.history;
    if (withSeen(value.now, this.seen) !== value.now) this.go({ ...value });
  }

  /**
   * Waits until all that was said is on disk.
   * @throws Error where it cannot be for now: one line on why
   */
  onDisk(): Promise<void> {
    return new Promise((done, fail) => {
      const stop = effect(() => {
        const { value } = this.saved;
        if (value.kind === 'saving') return;
        // Not within its own first run, when it has no name yet.
        queueMicrotask(() => stop());
        if (value.kind === 'saved') done();
        else if (value.kind === 'asked')
          fail(
            new Error('labels.json was changed in two places: open the clip and say which is right first'),
          );
        else fail(new Error(`what was marked is not on disk yet: ${value.why}`));
      });
    });
  }

  look(): Promise<void> {
    return this.saver.look();
  }

  settle(keep: 'mine' | 'theirs'): void {
    const { value } = this.saved;
    if (value.kind === 'asked') this.saver.settle(value.conflict, keep);
  }

  /** Does again what was left unsaved first, or lets it go; where it touches what was changed since, that is asked about. */
  answer(takeBack: boolean): void {
    const [first, ...rest] = this.left.value;
    if (!first) return;
    this.left.value = rest;
    if (takeBack) {
      const { now } = this.history.value;
      const { labels, conflicts } = merge(first.base, first.labels, now);
      const isAsked = conflicts.length > 0 && this.saved.value.kind === 'saved';
      const next = changed(this.history.value, 'unsaved changes put back', isAsked ? first.labels : labels);
      if (isAsked) {
        this.take(next);
        this.saver.contest(first.base, now);
      } else this.change(next);
    }
    first.forget();
  }

  private async offer(disk: LabelsState): Promise<void> {
    for (const kept of await unsavedOf(disk.file)) {
      const now = disk.labels ?? freshLabels;
      // What came to the disk after all is no longer unsaved.
      if (sameLabels(merge(kept.base, kept.labels, now).labels, now)) kept.forget();
      else this.left.value = [...this.left.value, kept];
    }
  }

  private adopt(labels: Labels, { base, mine, theirs }: Sides): void {
    if (!same(base, theirs))
      this.told.value = 'labels.json was changed by somebody else: what they changed is here too';
    const onto = (step: Labels) => (step === mine ? labels : merge(base, step, theirs).labels);
    this.take(rebased(this.history.value, onto));
  }

  /** What is chosen is looked for again in what is said now. */
  private take(history: History): void {
    batch(() => {
      const { value } = this.chosen;
      this.chosen.value = value && followed(value, this.history.value.now, history.now);
      this.history.value = history;
    });
  }
}

async function put(address: string, write: LabelsWrite): Promise<LabelsState> {
  try {
    return await ask<LabelsState>(address, { method: 'PUT', body: write });
  } catch (error) {
    const { answer } = error as { answer?: LabelsState };
    if (error instanceof Refused && answer && 'revision' in answer) throw new Changed(answer);
    if (error instanceof Refused && error.code === 'no-answer') throw new Error('the server does not answer');
    throw error;
  }
}
