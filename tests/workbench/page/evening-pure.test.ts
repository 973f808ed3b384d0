import { expect, it } from 'vitest';
import type { Seen } from '../../../src/outing/evening/photo.js';
import type { MarksState } from '../../../src/workbench/evening-protocol.js';
import { beginForm, form, promiseOf } from '../../../src/workbench/page/views/evening/asking.js';
import { merged } from '../../../src/workbench/page/views/evening/merged.js';
import { photosAmong } from '../../../src/workbench/page/views/evening/photos.js';
import {
  type MarksSaved,
  MarksSaver,
  type Unsaved,
} from '../../../src/workbench/page/views/evening/saver.js';

const marks = (all: Record<string, Seen>) => new Map(Object.entries(all));

it('photos of all folders of a card get names of their own; what is hidden or no photo is left out', () => {
  const paths = ['100/A.JPG', '101/A.JPG', 'a-b/c.png', 'a/b-c.png', '.trash/x.jpg', 'notes.txt', 'one.jpeg'];
  const found = photosAmong(paths.map((path) => ({ file: new File([], path), path })));
  expect(found.map(({ name }) => name)).toEqual([
    '100-A.JPG',
    '101-A.JPG',
    'a-b-c.png',
    '2-a-b-c.png',
    'one.jpeg',
  ]);
});

it('what was changed here goes before, all else is as it stands in the file', () => {
  const base = marks({ a: 'animal', b: 'nothing', c: 'nothing', e: 'animal' });
  const mine = marks({ a: 'person', b: 'nothing', d: 'animal', e: 'animal' });
  const theirs = marks({ a: 'nothing', b: 'animal', c: 'nothing', f: 'person' });
  expect(merged(base, mine, theirs)).toEqual(marks({ a: 'person', b: 'animal', d: 'animal', f: 'person' }));
});

/** A file of marks that others may write too. */
function disk(first: Record<string, Seen>) {
  let held = marks(first);
  let revision = 0;
  let fails = 0;
  const state = (): MarksState => ({ marks: [...held], revision: String(revision), file: 'm', key: 'm' });
  return {
    state,
    get held() {
      return held;
    },
    fail: (times: number) => {
      fails = times;
    },
    others: (all: Record<string, Seen>) => {
      held = marks(all);
      revision++;
    },
    async put(all: ReadonlyMap<string, Seen>, base: string) {
      if (fails-- > 0) throw new Error('the disk is full');
      if (base !== String(revision)) return { state: state(), written: false };
      held = new Map(all);
      revision++;
      return { state: state(), written: true };
    },
  };
}

function saving(on: ReturnType<typeof disk>) {
  let mine = new Map(on.held);
  const told: MarksSaved[] = [];
  const kept: (Unsaved | null)[] = [];
  const saver = new MarksSaver(on.state(), {
    put: (all, base) => on.put(all, base),
    mine: () => mine,
    adopt: (all) => {
      mine = new Map(all);
    },
    keep: (unsaved) => kept.push(unsaved),
    tell: (saved) => told.push(saved),
    pause: async () => undefined,
  });
  const mark = (photo: string, seen: Seen) => {
    mine = new Map(mine).set(photo, seen);
    saver.changed();
  };
  const done = () => expect.poll(() => told.at(-1)).toEqual({ kind: 'saved' });
  return { mark, done, told, kept, mine: () => mine };
}

it('marks that were made while others were on their way are on disk too', async () => {
  const on = disk({});
  const { mark, done } = saving(on);
  mark('a', 'animal');
  mark('b', 'nothing');
  await done();
  expect(on.held).toEqual(marks({ a: 'animal', b: 'nothing' }));
});

it('what cannot be written is put aside, and tried again until it is', async () => {
  const on = disk({});
  const { mark, done, told, kept } = saving(on);
  on.fail(2);
  mark('a', 'animal');
  await done();
  expect(told).toContainEqual({ kind: 'waiting', why: 'the disk is full' });
  expect(kept).toEqual([{ base: [], mine: [['a', 'animal']] }, null]);
  expect(on.held).toEqual(marks({ a: 'animal' }));
});

it('what somebody else marked meanwhile stays, and is here too', async () => {
  const on = disk({ a: 'nothing' });
  const { mark, done, mine } = saving(on);
  on.others({ a: 'nothing', b: 'person' });
  mark('c', 'animal');
  await done();
  expect(on.held).toEqual(marks({ a: 'nothing', b: 'person', c: 'animal' }));
  expect(mine()).toEqual(on.held);
});

const promise = (file: string, site: string | null) => ({
  file,
  kind: 'tune' as const,
  site,
  hours: null,
  changed: 0,
});
it.each([
  [
    'what the project names',
    { promised: 'old.json', site: 'pond' },
    ['new.json pond', 'old.json pond'],
    'old.json pond',
  ],
  [
    'its own spot in it',
    { promised: 'all.json', site: 'pond' },
    ['all.json hedge', 'all.json pond'],
    'all.json pond',
  ],
  [
    'else the latest of its spot',
    { promised: null, site: 'pond' },
    ['1.json hedge', '2.json pond', '3.json pond'],
    '2.json pond',
  ],
  ['nothing of another spot', { promised: null, site: 'pond' }, ['1.json hedge'], null],
  [
    'the latest where one spot alone has promises',
    { promised: null, site: null },
    ['2.json hedge', '1.json hedge'],
    '2.json hedge',
  ],
  [
    'nothing where nobody knows which spot it is',
    { promised: null, site: null },
    ['2.json hedge', '1.json pond'],
    null,
  ],
])('an evening is held against %s', (_, entry, there, chosen) => {
  const found = promiseOf(
    entry,
    there.map((one) => promise(...(one.split(' ') as [string, string]))),
    [],
  );
  expect(found && `${found.file} ${found.site}`).toBe(chosen);
});

it('a plan of other days is not what an evening is held against by itself', () => {
  const day = 86_400;
  const plan = (file: string, from: number) => ({
    ...promise(file, null),
    kind: 'plan' as const,
    hours: { from, until: from + day },
  });
  const plans = [plan('november.json', 100 * day), plan('may.json', 10 * day)];
  expect(promiseOf(undefined, plans, [10.5 * day])?.file).toBe('may.json');
  expect(promiseOf(undefined, plans, [50 * day])).toBeNull();
});

it('what was typed for one evening is not there for another; a promise that was chosen stays while it is open', () => {
  const monday = { id: 'monday' };
  beginForm(monday, promise('a.json', null));
  form.value = { ...form.value, from: '06:30', clock: '+01:00', promised: '' };
  beginForm(monday, promise('a.json', null));
  expect(form.value).toEqual({ from: '06:30', until: '', clock: '+01:00', promised: '' });
  beginForm({ id: 'tuesday' }, promise('b.json', 'pond'));
  expect(form.value).toEqual({ from: '', until: '', clock: '', promised: '["b.json","pond"]' });
});
