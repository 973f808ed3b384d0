import { mkdirSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type {
  EveningOpened,
  EveningsListed,
  EveningTold,
  MarksState,
} from '../../src/workbench/evening-protocol.js';
import { linesOf, post, resultOf } from '../support/asked.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { photoOf, writePhotos } from '../support/photos.js';
import { scratch, served } from '../support/workbench.js';

const photos = {
  '100/a.jpg': '2026-05-09 06:00:00',
  '100/b.jpg': '2026-05-09 06:30:00',
  '100/c.jpg': '2026-05-09 07:00:00',
};

async function garden(): Promise<{ root: string; address: string }> {
  const root = join(scratch(), 'garden');
  mkdirSync(root);
  await writePhotos(join(root, 'DCIM'), photos);
  return { root, address: await served(root) };
}
const listed = async (address: string) =>
  (await (await fetch(`${address}api/evenings`)).json()) as EveningsListed;
const opened = async (address: string, id = 'DCIM') =>
  resultOf<EveningOpened>(await post(`${address}api/evenings/${encodeURIComponent(id)}/open`));
const put = (address: string, marks: [string, string][], base: string, id = 'DCIM') =>
  fetch(`${address}api/evenings/${encodeURIComponent(id)}/marks`, {
    method: 'PUT',
    body: JSON.stringify({ marks, base }),
  });
const code = async (answer: Response) => ((await answer.json()) as { code: string }).code;

it('evenings are the folders of photos that are no clips; the demo has none', async () => {
  const { root, address } = await garden();
  await writeClip(
    join(root, 'hedge'),
    drawFrames(4, () => null, 'evening'),
    null,
  );
  mkdirSync(join(root, 'empty'));
  symlinkSync(join(root, 'DCIM'), join(root, 'link'));
  expect((await listed(address)).evenings).toEqual([
    { id: 'DCIM', marked: false, site: null, promised: null, problem: null },
  ]);
  expect(await listed(await served())).toEqual({ evenings: [], promises: [], spots: null });
});

it('marks are written as the command line reads them, and never over what somebody else wrote', async () => {
  const { root, address } = await garden();
  const { marks, photos: found } = await opened(address);
  expect(found.map(({ name }) => name)).toEqual(Object.keys(photos));
  const first = await put(address, [['100/b.jpg', 'animal']], marks.revision);
  const { revision } = (await first.json()) as MarksState;
  const file = join(root, 'DCIM-marks.csv');
  const text = 'photo,seen\n100/a.jpg,\n100/b.jpg,animal\n100/c.jpg,\n';
  expect([first.status, readFileSync(file, 'utf8')]).toEqual([200, text]);
  const theirs = text.replace('c.jpg,', 'c.jpg,person');
  writeFileSync(file, theirs);
  const late = await put(address, [['100/a.jpg', 'nothing']], revision);
  expect([late.status, ((await late.json()) as MarksState).marks]).toEqual([
    409,
    [
      ['100/b.jpg', 'animal'],
      ['100/c.jpg', 'person'],
    ],
  ]);
  expect(readFileSync(file, 'utf8')).toBe(theirs);
});

it('a file of marks with columns of its own is read, and left as it is', async () => {
  const { root, address } = await garden();
  const file = join(root, 'DCIM-marks.csv');
  const text = 'photo,seen,note\n100/a.jpg,animal,the tame one\n';
  writeFileSync(file, text);
  const { marks } = await opened(address);
  expect(marks.marks).toEqual([['100/a.jpg', 'animal']]);
  expect(await code(await put(address, [], marks.revision))).toBe('file-unwritable');
  expect(readFileSync(file, 'utf8')).toBe(text);
});

it('shows photos of the evening alone, small and large', async () => {
  const { root, address } = await garden();
  writeFileSync(join(root, 'secret.jpg'), await photoOf(9));
  writeFileSync(join(root, '..', 'outside.jpg'), await photoOf(99));
  symlinkSync(join(root, '..', 'outside.jpg'), join(root, 'DCIM', 'link.jpg'));
  await opened(address);
  const picture = (name: string, more = '') =>
    fetch(`${address}api/evenings/DCIM/photo?name=${encodeURIComponent(name)}${more}`);
  for (const more of ['', '&large=']) {
    const answer = await picture('100/a.jpg', more);
    expect(answer.headers.get('content-type')).toBe('image/jpeg');
    expect(new Uint8Array(await answer.arrayBuffer()).subarray(0, 2)).toEqual(Uint8Array.of(0xff, 0xd8));
  }
  for (const name of ['../secret.jpg', '', '100', '/etc/passwd'])
    expect(await code(await picture(name))).toBe('file-missing');
  expect(await code(await picture('link.jpg'))).toBe('leaves-folder');
  const outside = await fetch(`${address}api/evenings/${encodeURIComponent('../other')}/photo?name=a.jpg`);
  expect(await code(outside)).toBe('file-missing');
});

it('a project that keeps photos or marks elsewhere is told of, and nothing is read or written there', async () => {
  const { root, address } = await garden();
  await writePhotos(join(root, '..', 'elsewhere'), { 'a.jpg': null });
  const evenings = [{ folder: '../elsewhere' }, { folder: 'DCIM', marks: '../marks.csv' }];
  writeFileSync(join(root, 'perchmark.json'), JSON.stringify({ version: 1, sites: [], evenings }));
  const found = (await listed(address)).evenings;
  expect(found.map(({ id, problem }) => [id, problem?.includes('outside of the opened folder')])).toEqual([
    ['DCIM', true],
    ['../elsewhere', true],
  ]);
  const [last] = await linesOf(
    await post(`${address}api/evenings/${encodeURIComponent('../elsewhere')}/open`),
  );
  expect(last).toMatchObject({ problem: { code: 'leaves-folder' } });
});

it('photos that were sent become a folder of the opened one, whole or not at all', async () => {
  const root = scratch();
  const address = await served(root);
  const sent = async (name: string, files: Record<string, Uint8Array>) => {
    const { id } = (await (await post(`${address}api/bring-in`)).json()) as { id: string };
    for (const [file, bytes] of Object.entries(files)) {
      const url = `${address}api/bring-in/${id}/files/${encodeURIComponent(file)}?at=0`;
      await fetch(url, { method: 'PUT', body: new Uint8Array(bytes) });
    }
    return (
      await linesOf<{ evening: string }>(await post(`${address}api/bring-in/${id}/evening`, { name }))
    ).at(-1);
  };
  const photo = await photoOf(90, '2026-05-09 06:00:00');
  expect(await sent('may 9', { 'a.jpg': photo, 'b.jpg': photo })).toEqual({
    result: { evening: 'may 9', photos: 2 },
  });
  expect(readdirSync(join(root, 'may 9'))).toEqual(['a.jpg', 'b.jpg']);
  expect(await sent('may 9', { 'c.jpg': photo })).toMatchObject({
    problem: { message: expect.stringMatching(/^may 9: the folder already holds 2 entries/) },
  });
  writeFileSync(join(root, 'DCIM-marks.csv'), 'photo,seen\ngone.jpg,animal\n');
  expect(await sent('DCIM', { 'a.jpg': photo })).toMatchObject({
    problem: { message: expect.stringMatching(/^DCIM-marks\.csv: marks of another evening of this name/) },
  });
  expect(await sent('none', { 'a.jpg': Uint8Array.of(1, 2, 3) })).toMatchObject({
    problem: { code: 'file-missing', message: expect.stringMatching(/^none: the folder holds no photos/) },
  });
  expect(readdirSync(join(root, 'may 9'))).toEqual(['a.jpg', 'b.jpg']);
});

/** Sends a photo, and says what evening it is of. */
async function broughtIn(address: string, wanted: object) {
  const { id } = (await (await post(`${address}api/bring-in`)).json()) as { id: string };
  const url = `${address}api/bring-in/${id}/files/a.jpg?at=0`;
  await fetch(url, { method: 'PUT', body: new Uint8Array(await photoOf(90, '2026-05-09 06:00:00')) });
  return linesOf(await post(`${address}api/bring-in/${id}/evening`, wanted));
}

it('photos that were sent are entered into the project that is there, as of the spot that was named', async () => {
  const root = scratch();
  const file = join(root, 'perchmark.json');
  const sites = [
    { site: 'log pile', clips: ['calm'] },
    { site: 'pond', clips: ['bowl'] },
  ];
  const evenings = [{ folder: 'old' }];
  writeFileSync(file, JSON.stringify({ version: 1, sites, evenings }));
  const address = await served(root);
  const sent = async (wanted: object) => (await broughtIn(address, wanted)).at(-1);
  const message = `perchmark.json has no spot "ponds" (did you mean 'pond'?), but "log pile", "pond"; say again of which these are`;
  expect(await sent({ name: 'may 9', site: 'ponds' })).toMatchObject({ problem: { code: 'usage', message } });
  expect(await sent({ name: 'may 9', site: 'pond' })).toHaveProperty('result');
  expect(await sent({ name: 'may 10' })).toHaveProperty('result');
  expect(JSON.parse(readFileSync(file, 'utf8'))).toEqual({
    version: 1,
    sites,
    evenings: [{ folder: 'old' }, { folder: 'may 9', site: 'pond' }, { folder: 'may 10' }],
  });
  const found = await listed(address);
  expect(found.spots).toEqual(['log pile', 'pond']);
  expect(found.evenings.map(({ id, site }) => [id, site])).toContainEqual(['may 9', 'pond']);
});

it('an evening that comes under the name of one whose photos are gone is of neither its spot nor its promise, and the latest', async () => {
  const root = scratch();
  const file = join(root, 'perchmark.json');
  const sites = [
    { site: 'log pile', clips: ['calm'] },
    { site: 'pond', clips: ['bowl'] },
  ];
  const before = [
    { folder: './DCIM', site: 'log pile', promised: 'pile.json' },
    { folder: 'may 9', site: 'pond' },
  ];
  writeFileSync(file, JSON.stringify({ version: 1, sites, evenings: before }));
  const address = await served(root);
  const lines = await broughtIn(address, { name: 'DCIM', site: 'pond' });
  const { evenings } = JSON.parse(readFileSync(file, 'utf8')) as { evenings: unknown };
  expect(evenings).toEqual([
    { folder: 'may 9', site: 'pond' },
    { folder: 'DCIM', site: 'pond' },
  ]);
  const warning =
    'the project had an evening of a folder called DCIM, whose photos are gone; these are in its place, and its spot and its promise are not theirs';
  expect(lines).toContainEqual({ warning });
});

/** Two photos a trigger, a second apart; a trigger every 3 to 5 s, by a clock of whole seconds. */
function twoATrigger(): Record<string, string> {
  const found: Record<string, string> = {};
  let at = Date.UTC(2026, 4, 9, 6) / 1000;
  for (let i = 0; i < 24; i++) {
    for (const k of [0, 1]) {
      found[`${i}-${k}.jpg`] = new Date((at + k) * 1000).toISOString().slice(0, 19).replace('T', ' ');
    }
    at += [3, 5, 4][i % 3]!;
  }
  return found;
}

it('photos that came two at a time are counted so, whatever camera.json says, and that is told', async () => {
  const root = scratch();
  await writePhotos(join(root, 'DCIM'), twoATrigger());
  writeFileSync(
    join(root, 'camera.json'),
    JSON.stringify({ ...smallCamera, burst: { photos: 1, interval: 1 } }),
  );
  const recommended = {
    score: { falsePerHour: null },
    unseen: { falsePerHour: { value: 5, low: 3, high: 8 } },
  };
  const promised = { sites: [{ site: null, tells: 'enough', photosPerTrigger: 1, recommended }] };
  writeFileSync(join(root, 'promised.json'), JSON.stringify(promised));
  const address = await served(root);
  const { bursts, marks, photos: all } = await opened(address);
  expect(bursts).toEqual(all.map((_, i) => Math.floor(i / 2)));
  await put(address, [[all[1]!.name, 'animal']], marks.revision);
  const asked = { promised: { file: 'promised.json', site: null }, from: '05:00', until: '07:00', clock: '' };
  const { result } = await resultOf<EveningTold>(await post(`${address}api/evenings/DCIM/told`, asked));
  expect(result.promised).toMatchObject({
    photosPerTrigger: 2,
    nothingPerHour: { value: 10, low: 6, high: 16 },
  });
  expect(result.notes.join()).toMatch(
    /^Most photos came 2 at a time, .* for 1 photo a trigger, and are counted so: put its photos a trigger right/,
  );
});

it('holds an evening against a promise of this folder, and against no other file', async () => {
  const { root, address } = await garden();
  const between = { value: 5, low: 3, high: 8 };
  const site = (name: string) => ({
    site: name,
    tells: 'enough',
    photosPerTrigger: 1,
    recommended: { score: { falsePerHour: null }, unseen: { falsePerHour: between } },
  });
  writeFileSync(join(root, 'promised.json'), JSON.stringify({ sites: [site('hedge'), site('pond')] }));
  writeFileSync(join(root, 'other.json'), '{"sites": 3}');
  const { promises } = await listed(address);
  expect(promises.map(({ file, kind, site: of }) => [file, kind, of])).toEqual([
    ['promised.json', 'tune', 'hedge'],
    ['promised.json', 'tune', 'pond'],
  ]);
  const { marks } = await opened(address);
  await put(address, [['100/b.jpg', 'animal']], marks.revision);
  const ask = (file: string) =>
    post(`${address}api/evenings/DCIM/told`, {
      promised: { file, site: 'pond' },
      from: '05:00',
      until: '08:00',
      clock: '',
    });
  const { result } = await resultOf<EveningTold>(await ask('promised.json'));
  expect(result).toMatchObject({
    animal: 1,
    unmarked: 2,
    all: [],
    folder: 'DCIM',
    out: { hours: 3 },
    promised: { site: 'pond', nothingPerHour: between },
  });
  for (const file of ['../promised.json', 'other.json'])
    expect((await linesOf(await ask(file))).at(-1)).toMatchObject({ problem: { code: 'file-missing' } });
});

/** A garden with evenings in folders that are all called DCIM, named by a project. */
async function week(days: string[]): Promise<{ root: string; address: string }> {
  const root = scratch();
  for (const day of days) await writePhotos(join(root, day, 'DCIM'), photos);
  const evenings = days.map((day) => ({ folder: `${day}/DCIM` }));
  writeFileSync(join(root, 'perchmark.json'), JSON.stringify({ version: 1, sites: [], evenings }));
  return { root, address: await served(root) };
}
const sheet = 'photo,seen\n100/a.jpg,animal\n';

it('evenings whose last folders are called alike have marks of their own, and are listed once', async () => {
  const { address } = await week(['monday', 'tuesday']);
  expect((await listed(address)).evenings.map(({ id }) => id)).toEqual(['tuesday/DCIM', 'monday/DCIM']);
  const { marks } = await opened(address, 'monday/DCIM');
  expect((await put(address, [['100/b.jpg', 'animal']], marks.revision, 'monday/DCIM')).status).toBe(200);
  expect((await opened(address, 'monday/DCIM')).marks.marks).toEqual([['100/b.jpg', 'animal']]);
  expect((await opened(address, 'tuesday/DCIM')).marks.marks).toEqual([]);
});

it('marks that stand under the name of the last folder alone are those of the one evening called so', async () => {
  const { root, address } = await week(['monday']);
  writeFileSync(join(root, 'DCIM-marks.csv'), sheet);
  expect((await opened(address, 'monday/DCIM')).marks.marks).toEqual([['100/a.jpg', 'animal']]);
});

it('marks under a name that two evenings have are of neither, and that is told', async () => {
  const { root, address } = await week(['monday', 'tuesday']);
  writeFileSync(join(root, 'DCIM-marks.csv'), sheet);
  const lines = await linesOf<EveningOpened>(
    await post(`${address}api/evenings/${encodeURIComponent('monday/DCIM')}/open`),
  );
  expect(lines.at(-1)).toMatchObject({ result: { marks: { marks: [] } } });
  expect(JSON.stringify(lines)).toContain('DCIM-marks.csv: of which evening these marks are is not known');
  expect(readFileSync(join(root, 'DCIM-marks.csv'), 'utf8')).toBe(sheet);
});

it('marks of a photo that was deleted block nothing: they are told of, and kept by whoever writes', async () => {
  const { root, address } = await garden();
  const { marks } = await opened(address);
  const both: [string, string][] = [
    ['100/a.jpg', 'animal'],
    ['100/b.jpg', 'animal'],
  ];
  await put(address, both, marks.revision);
  rmSync(join(root, 'DCIM', '100', 'b.jpg'));
  const lines = await linesOf<EveningOpened>(await post(`${address}api/evenings/DCIM/open`));
  const told = 'DCIM-marks.csv: marks of 1 photo that is not there any more are left as they are';
  expect(lines).toContainEqual({ warning: told });
  const again = (lines.at(-1) as { result: EveningOpened }).result.marks;
  expect(again.marks).toEqual([['100/a.jpg', 'animal']]);
  const file = join(root, 'DCIM-marks.csv');
  const after = (await (await put(address, [['100/a.jpg', 'nothing']], again.revision)).json()) as MarksState;
  const text = 'photo,seen\n100/a.jpg,nothing\n100/c.jpg,\n100/b.jpg,animal\n';
  expect(readFileSync(file, 'utf8')).toBe(text);
  // A page that was opened before.
  expect((await put(address, both, after.revision)).status).toBe(200);
  expect(readFileSync(file, 'utf8')).toBe(text.replace('nothing', 'animal'));
  const asked = { promised: null, from: '', until: '', clock: '' };
  const { result } = await resultOf<EveningTold>(await post(`${address}api/evenings/DCIM/told`, asked));
  expect(result).toMatchObject({ animal: 1, unmarked: 1 });
});

it('what a project names for an evening is offered, in whichever folder of it it lies', async () => {
  const { root, address } = await garden();
  mkdirSync(join(root, 'kept'));
  const falsePerHour = { value: 5, low: 3, high: 8 };
  const recommended = { score: { falsePerHour: null }, unseen: { falsePerHour } };
  writeFileSync(
    join(root, 'kept', 'pond.json'),
    JSON.stringify({ sites: [{ site: 'pond', tells: 'enough', recommended }] }),
  );
  const evenings = [{ folder: 'DCIM', promised: 'kept/pond.json' }];
  writeFileSync(join(root, 'perchmark.json'), JSON.stringify({ version: 1, sites: [], evenings }));
  const found = await listed(address);
  expect(found.evenings[0]?.promised).toBe('kept/pond.json');
  expect(found.promises.map(({ file, site }) => [file, site])).toEqual([['kept/pond.json', 'pond']]);
  const { marks } = await opened(address);
  await put(address, [['100/b.jpg', 'animal']], marks.revision);
  const asked = { promised: { file: 'kept/pond.json', site: 'pond' }, from: '', until: '', clock: '' };
  const { result } = await resultOf<EveningTold>(await post(`${address}api/evenings/DCIM/told`, asked));
  expect(result).toMatchObject({ promised: { site: 'pond' } });
});

it('of a plan it is told for which hours it is', async () => {
  const { root, address } = await garden();
  const falsePerHour = { value: 5, low: 3, high: 8 };
  const stretch = (from: string, to: string) => ({ from, to, falsePerHour });
  const stretches = [
    stretch('1970-01-02T01:00:00+01:00', '1970-01-02T02:00:00+01:00'),
    stretch('1970-01-02T02:00:00+01:00', '1970-01-02T03:00:00+01:00'),
  ];
  const sites = [
    { site: 'pond', stretches },
    { site: 'hedge', stretches: [] },
  ];
  writeFileSync(join(root, 'plan.json'), JSON.stringify({ sites }));
  expect((await listed(address)).promises.map(({ hours }) => hours)).toEqual([
    { from: 86_400, until: 86_400 + 7200 },
    null,
  ]);
});
