import { beforeAll, expect, it, vi } from 'vitest';
import type { AboutState } from '../../../src/workbench/about-on-disk.js';

const page = () => import('../../../src/workbench/page/state/about.js');
let own: Awaited<ReturnType<typeof page>>;

beforeAll(async () => {
  vi.stubGlobal('window', { clearTimeout: () => undefined, setTimeout: () => 0 });
  vi.stubGlobal('document', { hidden: true });
  own = await page();
  return () => vi.unstubAllGlobals();
});

it('what is typed of a clip while it is being saved stays, and is told as not saved', async () => {
  const { recorded } = await begun({ site: 'pond' });
  const { answer, saving } = save();
  own.setAbout({ site: 'log pile' });
  answer(saved({ site: 'pond' }));
  await saving;
  expect(own.about.value).toMatchObject({
    site: 'log pile',
    recorded,
    state: { about: { site: 'pond' }, revision: 'second' },
    said: 'Saved in clip.json. What you typed meanwhile is not: press Save again.',
  });
});

it('what was not typed since is as it is on disk, and why the spot is another is told', async () => {
  await begun({ site: 'pond' });
  const { answer, saving } = save();
  answer({ ...saved({ site: 'heap' }), otherSpot: 'It counts as one of the heap.' });
  await saving;
  expect(own.about.value).toMatchObject({
    site: 'heap',
    said: 'Saved in clip.json. It counts as one of the heap.',
  });
});

const saved = (about: AboutState['about']) => ({
  about,
  revision: 'second',
  project: null,
  drawn: false,
  otherSpot: null as string | null,
});

/** Begins with a clip of which something is said, as the page has it after loading. */
async function begun(about: AboutState['about']) {
  const { thenOf } = await import('../../../src/workbench/page/parts/then.js');
  const state = { about, revision: 'first', project: null, drawn: false };
  const now = { clip: 'hedge', state, site: about.site ?? '', recorded: thenOf(about), said: null };
  own.about.value = now;
  return now;
}

/** Presses Save; the server answers when it is told to. */
function save() {
  let answer!: (value: object) => void;
  const asked = new Promise<object>((resolve) => {
    answer = resolve;
  });
  vi.stubGlobal('fetch', async (address: string) =>
    Response.json(address.endsWith('/about') ? await asked : { clips: [] }),
  );
  return { answer, saving: own.saveAbout() };
}
