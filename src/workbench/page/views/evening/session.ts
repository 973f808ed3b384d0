import { batch, computed, type ReadonlySignal, type Signal, signal } from '@preact/signals';
import { Marks } from '../../../../outing/evening/marks.js';
import type { Seen } from '../../../../outing/evening/photo.js';
import { hoursOfPhotos } from '../../../../outing/evening/sections.js';
import type { EveningOpened, MarksState, PhotoListed } from '../../../evening-protocol.js';
import { ask, Refused } from '../../link/api.js';
import { merged, type Seens, sameSeens } from './merged.js';
import { type MarksSaved, MarksSaver, type Unsaved } from './saver.js';

/** Which photos are shown. */
export type Shown = 'all' | 'open' | Seen;

/** Seconds between two tries to save, at most. */
const PATIENCE = 5;

/** The photos of one evening while the page is open: what was seen in each, and the one that is looked at. */
export class EveningSession {
  readonly id: string;
  readonly photos: readonly PhotoListed[];
  readonly bursts: readonly number[];
  readonly file: string;
  /** What is seen in each photo, by its place. */
  readonly seen: readonly Signal<Seen | null>[];
  /** The place of the photo that is looked at. */
  readonly current = signal(0);
  readonly shown = signal<Shown>('all');
  /** Whether photos of a burst are marked together. */
  readonly together = signal(true);
  readonly saved = signal<MarksSaved>({ kind: 'saved' });
  /** What happened last, in words. */
  readonly told = signal('');
  readonly canUndo = signal(false);
  readonly hours;
  readonly counts: ReadonlySignal<Record<Seen | 'open', number>>;
  private readonly marks: Marks;
  private readonly saver: MarksSaver;
  private readonly places: ReadonlyMap<string, number>;

  constructor(
    opened: EveningOpened,
    /** What went not into the folder, a line a kind. */
    readonly notes: readonly string[],
  ) {
    const { id, photos, bursts, marks } = opened;
    this.id = id;
    this.photos = photos;
    this.bursts = bursts;
    this.file = marks.file;
    this.places = new Map(photos.map(({ name }, place) => [name, place]));
    const found = this.inOrder(new Map(marks.marks));
    this.marks = new Marks([...found]);
    this.seen = found.map((seen) => signal(seen));
    this.hours = hoursOfPhotos(photos.map(({ time }) => time));
    this.counts = computed(() => {
      const counts = { animal: 0, nothing: 0, person: 0, open: 0 };
      for (const { value } of this.seen) counts[value ?? 'open']++;
      return counts;
    });
    const key = `perchmark evening ${marks.key}`;
    this.saver = new MarksSaver(marks, {
      put: (all, base) => put(id, all, base),
      mine: () => this.mine(),
      adopt: (all) => this.adopt(all),
      keep: (unsaved) => putAside(key, unsaved),
      tell: (saved) => {
        this.saved.value = saved;
      },
      pause: (tries) => new Promise((done) => setTimeout(done, 1000 * Math.min(PATIENCE, tries))),
    });
    this.current.value = Math.max(0, this.marks.nextUnmarked(-1, () => true) ?? 0);
    this.takeBack(key, new Map(marks.marks));
  }

  /** Marks the photo looked at, and with it those of its burst that are not marked; then goes to the next that is not. */
  mark(seen: Seen | null): void {
    const at = this.current.value;
    const others =
      this.together.value && seen !== null
        ? this.burstOf(at).filter((photo) => this.marks.get(photo) === null)
        : [];
    this.change(this.marks.set([...new Set([at, ...others])], seen));
    if (seen === null) return;
    const next = this.marks.nextUnmarked(at, (photo) => this.shows(photo));
    if (next !== null) this.go(next);
    else
      this.told.value =
        this.counts.value.open === 0 ? 'All photos are marked.' : 'No photo shown here is left to mark.';
  }

  /** Marks the photos of an hour that are not marked as of nothing. */
  restIsNothing(from: number, count: number): void {
    const open = Array.from({ length: count }, (_, i) => from + i).filter(
      (photo) => this.marks.get(photo) === null,
    );
    this.change(this.marks.set(open, 'nothing'));
  }

  undo(): void {
    const photos = this.marks.undo();
    this.change(photos);
    if (photos[0] !== undefined) this.go(photos[0]);
  }

  go(photo: number): void {
    if (photo >= 0 && photo < this.photos.length) this.current.value = photo;
  }

  /** Whether a photo is shown under what is chosen to be looked at. */
  shows(photo: number): boolean {
    const wanted = this.shown.value;
    return wanted === 'all' || (this.marks.get(photo) ?? 'open') === wanted;
  }

  burstOf(photo: number): number[] {
    const { bursts } = this;
    let from = photo;
    while (from > 0 && bursts[from - 1] === bursts[photo]) from--;
    const photos: number[] = [];
    for (let at = from; at < bursts.length && bursts[at] === bursts[photo]; at++) photos.push(at);
    return photos;
  }

  /** Waits until all is on disk. @throws Error with one line on why it cannot be for now */
  async onDisk(): Promise<void> {
    await this.saver.settled();
    const { value } = this.saved;
    if (value.kind === 'waiting') throw new Error(`what was marked is not on disk yet: ${value.why}`);
  }

  private change(photos: readonly number[]): void {
    this.show(photos);
    this.told.value = '';
    if (photos.length > 0) this.saver.changed();
  }

  private show(photos: readonly number[]): void {
    batch(() => {
      for (const photo of photos) this.seen[photo]!.value = this.marks.get(photo);
      this.canUndo.value = this.marks.canUndo;
    });
  }

  private mine(): Seens {
    return new Map(
      this.photos.flatMap(({ name }, photo): [string, Seen][] => {
        const seen = this.marks.get(photo);
        return seen === null ? [] : [[name, seen]];
      }),
    );
  }

  private adopt(all: Seens): void {
    const changed = this.marks.adopt(this.inOrder(all));
    this.show(changed);
    if (changed.length > 0)
      this.told.value = `${this.file} was changed by somebody else too: what they marked is here.`;
  }

  /** What an earlier page could not save any more. */
  private takeBack(key: string, disk: Seens): void {
    const unsaved = putBack(key);
    if (!unsaved) return;
    const known = (pairs: Unsaved['mine']) =>
      new Map(pairs.filter(([name]) => this.places.has(name)) as [string, Seen][]);
    const both = merged(known(unsaved.base), known(unsaved.mine), disk);
    if (sameSeens(both, disk)) {
      putAside(key, null);
      return;
    }
    this.show(this.marks.adopt(this.inOrder(both)));
    this.told.value = 'Marks that were not on disk when the page was closed are back.';
    this.saver.changed();
  }

  private inOrder(all: Seens): (Seen | null)[] {
    return this.photos.map(({ name }) => all.get(name) ?? null);
  }
}

async function put(id: string, marks: Seens, base: string): Promise<{ state: MarksState; written: boolean }> {
  const address = `api/evenings/${encodeURIComponent(id)}/marks`;
  try {
    const state = await ask<MarksState>(address, { method: 'PUT', body: { marks: [...marks], base } });
    return { state, written: true };
  } catch (error) {
    const there =
      error instanceof Refused ? (error as Refused & { answer?: MarksState | null }).answer : undefined;
    if (there?.marks) return { state: there, written: false };
    throw error;
  }
}

function putAside(key: string, unsaved: Unsaved | null): void {
  try {
    if (unsaved) localStorage.setItem(key, JSON.stringify(unsaved));
    else localStorage.removeItem(key);
  } catch {
    // A browser that keeps nothing: the page still saves as soon as it can.
  }
}

function putBack(key: string): Unsaved | null {
  try {
    return JSON.parse(localStorage.getItem(key) ?? 'null') as Unsaved | null;
  } catch {
    return null;
  }
}
