import { Marks } from '../../outing/evening/marks.js';
import type { Seen } from '../../outing/evening/photo.js';
import type { SheetGiven } from './given.js';

// The sheet's own script. Whatever is marked stays in the browser where it keeps anything for a file, and goes nowhere else.

function byId<T extends HTMLElement>(id: string): T {
  return document.getElementById(id) as T;
}

const given = JSON.parse(byId('given').textContent) as SheetGiven;
const marks = new Marks([...given.marks]);
const tiles = [...document.querySelectorAll<HTMLElement>('.photo')];
const KEPT = `perchmark evening ${given.id}`;
const words: Record<Seen, string> = { animal: 'animal', nothing: 'nothing', person: 'person' };

let current = 0;
let saved = marks.written();
let keeps = true;

function keep(): void {
  try {
    localStorage.setItem(KEPT, marks.written());
    keeps = true;
  } catch {
    keeps = false;
  }
}

function kept(): string {
  try {
    return localStorage.getItem(KEPT) ?? '';
  } catch {
    return '';
  }
}

/** Whether a photo is shown under what is chosen to be looked at. */
function shows(photo: number): boolean {
  const wanted = byId<HTMLSelectElement>('show').value;
  return wanted === 'all' || (marks.get(photo) ?? 'open') === wanted;
}

function draw(photos: readonly number[]): void {
  for (const photo of photos) {
    const tile = tiles[photo];
    if (!tile) continue;
    const mark = marks.get(photo);
    tile.parentElement!.dataset.seen = mark ?? 'open';
    tile.querySelector('.mark')!.textContent = mark ? words[mark] : '';
  }
  drawCounts();
}

function drawCounts(): void {
  const open = marks.count(null);
  const count = (mark: Seen) => `${marks.count(mark)} ${words[mark]}`;
  byId('counts').textContent =
    `${given.names.length - open} of ${given.names.length} marked: ${count('animal')}, ${count('nothing')}, ${count('person')}`;
  byId<HTMLButtonElement>('undo').disabled = !marks.canUndo;
  byId('unsaved').hidden = marks.written() === saved;
  for (const section of document.querySelectorAll<HTMLElement>('section[data-from]')) {
    const left = photosOf(section).filter((photo) => marks.get(photo) === null).length;
    const rest = section.querySelector<HTMLButtonElement>('.rest')!;
    rest.disabled = left === 0;
    rest.textContent = left === 0 ? 'all marked' : `the other ${left}: nothing`;
  }
}

function photosOf(section: HTMLElement): number[] {
  const from = Number(section.dataset.from);
  return Array.from({ length: Number(section.dataset.count) }, (_, i) => from + i);
}

function go(photo: number, focus = true): void {
  const tile = tiles[photo];
  if (!tile) return;
  const before = tiles[current];
  before?.classList.remove('current');
  before?.setAttribute('tabindex', '-1');
  current = photo;
  tile.classList.add('current');
  tile.setAttribute('tabindex', '0');
  if (focus) tile.focus({ preventScroll: true });
  tile.scrollIntoView({ block: 'nearest' });
  drawStage();
}

function drawStage(): void {
  const tile = tiles[current]!;
  const picture = tile.querySelector('img');
  const large = byId<HTMLImageElement>('large');
  large.hidden = picture === null;
  if (picture) large.src = picture.src;
  byId('none').hidden = picture !== null;
  byId('none').textContent = tile.querySelector('.none')?.textContent ?? '';
  const mark = marks.get(current);
  byId('which').textContent = `Photo ${current + 1}${tile.dataset.at ? `, ${tile.dataset.at}` : ''}`;
  byId('name').textContent = given.names[current] ?? '';
  byId<HTMLAnchorElement>('open').href =
    given.folder + (given.names[current] ?? '').split('/').map(encodeURIComponent).join('/');
  for (const button of document.querySelectorAll<HTMLElement>('[data-mark]')) {
    button.setAttribute('aria-pressed', String((mark ?? '') === button.dataset.mark));
  }
  const others = burstOf(current).length - 1;
  byId('burst').hidden = others === 0;
  byId('burst').textContent = `one of a burst of ${others + 1}`;
}

function burstOf(photo: number): number[] {
  const burst = given.bursts[photo];
  let from = photo;
  while (from > 0 && given.bursts[from - 1] === burst) from--;
  const photos: number[] = [];
  for (let at = from; given.bursts[at] === burst && at < given.names.length; at++) photos.push(at);
  return photos;
}

/** Marks the photo looked at, and with it those of its burst that are not marked; then goes to the next that is not. */
function mark(seen: Seen | null): void {
  const together = byId<HTMLInputElement>('together').checked && seen !== null;
  const others = together ? burstOf(current).filter((photo) => marks.get(photo) === null) : [];
  changed(marks.set([...new Set([current, ...others])], seen));
  if (seen === null) {
    drawStage();
    return;
  }
  const next = marks.nextUnmarked(current, (photo) => shows(photo));
  if (next !== null) go(next);
  else {
    drawStage();
    say(
      marks.count(null) === 0 ? 'All photos are marked. Save the marks.' : 'No photo here is left to mark.',
    );
  }
}

function changed(photos: readonly number[]): void {
  keep();
  draw(photos);
}

function undo(): void {
  const photos = marks.undo();
  changed(photos);
  if (photos[0] !== undefined) go(photos[0]);
}

function say(text: string): void {
  byId('said').textContent = text;
}

function save(): void {
  const address = URL.createObjectURL(new Blob([marks.csv(given.names)], { type: 'text/csv' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = given.saveAs;
  link.click();
  // The browser reads it a moment later.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
  saved = marks.written();
  drawCounts();
  say(`Saved as ${given.saveAs}, where your browser puts what it saves.`);
}

/** The photo above or below, by where they stand on the page. */
function beside(step: 1 | -1): number {
  const here = tiles[current]!.getBoundingClientRect();
  let best = current;
  let row: number | null = null;
  let nearest = Number.POSITIVE_INFINITY;
  for (let photo = current + step; photo >= 0 && photo < tiles.length; photo += step) {
    if (!shows(photo)) continue;
    const place = tiles[photo]!.getBoundingClientRect();
    if ((place.top - here.top) * step < 1) continue;
    row ??= place.top;
    if (Math.abs(place.top - row) > 1) break;
    const far = Math.abs(place.left - here.left);
    if (far < nearest) {
      nearest = far;
      best = photo;
    }
  }
  return best;
}

function along(step: 1 | -1): number {
  for (let photo = current + step; photo >= 0 && photo < tiles.length; photo += step)
    if (shows(photo)) return photo;
  return current;
}

const keys: Record<string, () => void> = {
  a: () => mark('animal'),
  n: () => mark('nothing'),
  p: () => mark('person'),
  u: undo,
  Delete: () => mark(null),
  ArrowRight: () => go(along(1)),
  ArrowLeft: () => go(along(-1)),
  ArrowDown: () => go(beside(1)),
  ArrowUp: () => go(beside(-1)),
  Home: () => go(tiles.findIndex((_, photo) => shows(photo))),
  End: () => go(tiles.findLastIndex((_, photo) => shows(photo))),
};

document.addEventListener('keydown', (event) => {
  if (event.altKey || event.ctrlKey || event.metaKey || event.target instanceof HTMLSelectElement) return;
  const act = keys[event.key.length === 1 ? event.key.toLowerCase() : event.key];
  if (!act) return;
  event.preventDefault();
  act();
});

document.addEventListener('click', ({ target }) => {
  const pressed = target instanceof Element ? target.closest<HTMLElement>('button') : null;
  if (!pressed) return;
  const { mark: seen } = pressed.dataset;
  if (pressed.classList.contains('photo')) go(tiles.indexOf(pressed));
  else if (seen !== undefined) mark(seen === '' ? null : (seen as Seen));
  else if (pressed.classList.contains('rest')) {
    const section = pressed.closest<HTMLElement>('section')!;
    changed(
      marks.set(
        photosOf(section).filter((photo) => marks.get(photo) === null),
        'nothing',
      ),
    );
    drawStage();
  } else if (pressed.id === 'undo') undo();
  else if (pressed.id === 'save') save();
});

byId('show').addEventListener('change', ({ target }) => {
  document.body.dataset.show = (target as HTMLSelectElement).value;
  const first = shows(current) ? current : tiles.findIndex((_, photo) => shows(photo));
  if (first >= 0) go(first, false);
});

// Where the browser keeps nothing, leaving would lose what was not saved.
addEventListener('beforeunload', (event) => {
  if (!keeps && marks.written() !== saved) event.preventDefault();
});

document.body.classList.add('sorts');
const before = kept();
if (before !== '' && before !== saved && marks.read(before)) {
  say('Your marks of last time are back. They are in this browser only until you save them.');
}
keep();
if (!keeps) say('This browser keeps nothing for a page opened from a file: save the marks before you leave.');
draw(tiles.map((_, photo) => photo));
go(Math.max(0, marks.nextUnmarked(-1, () => true) ?? 0), false);
