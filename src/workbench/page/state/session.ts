import { signal } from '@preact/signals';
import type { Labels } from '../../../score/labels.js';
import type { LabelsState, LabelsWrite } from '../../protocol.js';
import { ask, Refused } from '../link/api.js';
import { keyed, same } from './entries.js';
import { changed, type History, rebased, startedWith } from './history.js';
import { merge, type Sides, sameLabels } from './merge.js';
import { Changed, type Saved, Saver } from './saver.js';
import { emptyLabels, KINDS, listOf, type Sheet } from './sheet.js';
import { type Kept, keepUnsaved, unsavedOf } from './unsaved.js';

/** Seconds between two tries, at most. */
const PATIENCE = 5;

/** The labels of one clip while the page is open: what is said, how to go back, and what of it is on disk. */
export class Session {
  readonly history = signal<History>(startedWith(emptyLabels));
  readonly saved = signal<Saved>({ kind: 'saved' });
  /** What came from outside last, in words; null: nothing. */
  readonly told = signal<string | null>(null);
  /** What an earlier page left unsaved, and nobody decided about yet. */
  readonly left = signal<Kept | null>(null);
  /** Whether there is anything on disk, or came with the clip. */
  readonly there = signal(true);
  private readonly saver: Saver;

  constructor(
    readonly id: string,
    disk: LabelsState,
    address: string,
  ) {
    this.history.value = startedWith(disk.labels ?? emptyLabels);
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
      mine: () => this.history.value.now.labels,
      adopt: (labels, sides) => this.adopt(labels, sides),
    });
    this.offer(disk);
  }

  /** Goes on from a change, an undo or a redo. */
  go(history: History): void {
    if (history === this.history.value) return;
    this.history.value = history;
    this.there.value = true;
    this.saver.changed();
  }

  look(): Promise<void> {
    return this.saver.look();
  }

  meet(disk: LabelsState): void {
    this.saver.meet(disk);
  }

  settle(keep: 'mine' | 'theirs'): void {
    const { value } = this.saved;
    if (value.kind === 'asked') this.saver.settle(value.conflict, keep);
  }

  /** Does again what was left unsaved, or lets it go. */
  answer(takeBack: boolean): void {
    const { value } = this.left;
    this.left.value = null;
    if (!value) return;
    if (takeBack) {
      const { now } = this.history.value;
      const { labels } = merge(value.base, value.labels, now.labels);
      this.go(changed(this.history.value, 'unsaved changes put back', refound(now, labels)));
    }
    value.forget();
  }

  private offer(disk: LabelsState): void {
    for (const kept of unsavedOf(disk.file)) {
      const now = disk.labels ?? emptyLabels;
      // What came to the disk after all is no longer unsaved.
      if (sameLabels(merge(kept.base, kept.labels, now).labels, now)) kept.forget();
      else this.left.value = kept;
    }
  }

  private adopt(labels: Labels, { base, mine, theirs }: Sides): void {
    if (!same(base, theirs))
      this.told.value = 'labels.json was changed by somebody else: what they changed is here too';
    const onto = (sheet: Sheet) =>
      refound(sheet, sheet.labels === mine ? labels : merge(base, sheet.labels, theirs).labels);
    this.history.value = rebased(this.history.value, onto);
  }
}

/** Other labels, in which what has begun is looked for again. */
function refound({ labels, begun }: Sheet, next: Labels): Sheet {
  const found: Sheet['begun'] = {};
  for (const kind of KINDS) {
    const at = begun[kind];
    const key = at === undefined ? undefined : [...keyed(listOf(labels, kind)).keys()][at];
    const place = key === undefined ? -1 : [...keyed(listOf(next, kind)).keys()].indexOf(key);
    if (place >= 0) found[kind] = place;
  }
  return { labels: next, begun: found };
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
