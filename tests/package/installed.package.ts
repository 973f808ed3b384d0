import { once } from 'node:events';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { causeNames } from '../../src/score/labels.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { filesIn, type Installed, install } from './install.js';

/** A wren from 2 s to 4 s, and at 6 s and 8 s a flash that is nothing. */
const path = (k: number) => {
  if (k === 30 || k === 40) return { x: 10, y: 10, size: 20, level: 160 };
  return k >= 10 && k <= 20 ? { x: 2 + (k - 10) * 5, y: 20, size: 6, level: 180 } : null;
};
const labels = { version: 1, visits: [{ start: 2, end: 4.4, type: 'animal', name: 'wren' }] };
const settings = { version: 1, threshold: 18, minimumArea: 16, cooldown: 1 };
const suite = { version: 1, clips: ['clip'], camera: 'camera.json', settings, limits: { recall: 1 } };

let installed: Installed;
beforeAll(async () => {
  installed = await install();
  const { folder } = installed;
  const conditions = { wind: 2, rain: 1, light: 9000 };
  await writeClip(join(folder, 'clip'), drawFrames(48, path, 'package'), labels, { rate: 5, conditions });
  const files = { 'camera.json': smallCamera, 'settings.json': settings, 'suite.json': suite };
  for (const [name, content] of Object.entries(files)) {
    writeFileSync(join(folder, name), JSON.stringify(content));
  }
});
afterAll(() => installed?.remove());

/** What a command says as JSON, once it has ended well; on standard error there may be progress, where it is slow. */
async function said(...args: string[]) {
  const { code, out, err } = await installed.perchmark(...args, '--json');
  expect(code, err).toBe(0);
  return JSON.parse(out);
}
const under = ['--camera', 'camera.json', '--settings', 'settings.json'];

describe('the package', () => {
  it('holds the program, the demo scenes and what changed, and neither what trains nor what is stale', () => {
    const files = filesIn(installed.own);
    expect(files).toEqual(
      expect.arrayContaining([
        'bin/perchmark.js',
        'dist/program/main.js',
        'dist/program/index.js',
        'dist/program/licences/zod.txt',
        'dist/camera/shipped/previous-frame.json',
        'dist/report/sorting/page.js',
        'dist/jobs/index.d.ts',
        'dist/workbench/page/index.html',
        'clips/log-pile-calm.json',
        'CHANGELOG.md',
        'LICENSE',
        'README.md',
      ]),
    );
    expect(files.filter((name) => /^(src|tests|dist\/lab)\/|stale|\.partial$/.test(name))).toEqual([]);
    // What the program was built from is in it already.
    const builtFrom = /^dist\/(?!program|report\/sorting|workbench\/page).*\.js$/;
    expect(files.filter((name) => builtFrom.test(name))).toEqual([]);
  });
});

describe('once installed without what only developers need', () => {
  it('replays', async () => {
    const { clips, total } = await said('replay', 'clip', ...under);
    expect(clips[0].triggers.map((t: { time: number; verdict: string }) => [t.time, t.verdict])).toEqual([
      [2, 'true'],
      [3, 'true'],
      [4, 'true'],
      [6, 'false'],
      [8, 'false'],
    ]);
    expect(total).toMatchObject({ visits: 1, caught: 1, falseTriggers: 2 });
  });

  it('tunes', async () => {
    const args = ['tune', 'clip', '--camera', 'camera.json', '--recorded-only', '--false-per-hour', '5000'];
    const { searched, best } = await said(...args);
    expect(searched).toBe(5 * 3 * 2);
    expect(best.score).toMatchObject({ visits: 1, caught: 1 });
  });

  it('gives what programs import from it', async () => {
    const program = `
      import { check, replay, tune } from 'perchmark';
      const [clips, camera, settings] = [['clip'], 'camera.json', ${JSON.stringify(settings)}];
      const { total } = await replay({ clips, camera, settings });
      const { sites } = await tune({ clips, camera, wanted: { falsePerHour: 5000 }, recordedOnly: true });
      const { checked } = await check({ suite: 'imported.json', accept: 'as it was hung' });
      console.log(JSON.stringify([total.caught, total.falseTriggers, sites[0].best.score.caught, checked.verdict]));
    `;
    writeFileSync(join(installed.folder, 'imported.json'), JSON.stringify(suite));
    expect(JSON.parse(await installed.runs(program))).toEqual([1, 2, 1, 'holds']);
  });

  it('opens the page, with all that it needs', async () => {
    const child = installed.start('open', '.', '--json');
    onTestFinished(() => {
      child.kill();
    });
    const [first] = (await once(child.stdout!, 'data')) as [Buffer];
    const { address } = JSON.parse(String(first)) as { address: string };
    const page = await (await fetch(address)).text();
    const parts = [...page.matchAll(/(?:src|href)="(\.\/[^"]+)"/g)].map(([, path]) => path!);
    expect(parts.map((path) => path.replace(/.*\./, '')).sort()).toEqual(['css', 'js']);
    for (const path of parts) expect((await fetch(new URL(path, address))).status).toBe(200);
    const workspace = (await (await fetch(`${address}api/workspace`)).json()) as {
      clips: { name: string }[];
    };
    expect(workspace.clips.map(({ name }) => name)).toContain('clip');
    const picture = await fetch(`${address}api/clips/clip/frames/3?width=32`);
    expect([picture.status, picture.headers.get('content-type')]).toEqual([200, 'image/jpeg']);
  });

  it('diagnoses', async () => {
    const { falseTriggers } = await said('diagnose', 'clip', ...under);
    expect(falseTriggers.map(({ time }: { time: number }) => time)).toEqual([6, 8]);
    for (const { cause, probability } of falseTriggers) {
      expect(causeNames).toContain(cause);
      expect(probability).toBeGreaterThan(0);
      expect(probability).toBeLessThanOrEqual(1);
    }
  });

  it('checks against what was accepted', async () => {
    const accepted = await installed.perchmark('check', 'suite.json', '--accept', '--why', 'as it was hung');
    expect(accepted.code, accepted.err).toBe(0);
    expect(await said('check', 'suite.json')).toMatchObject({ verdict: 'holds' });
    writeFileSync(join(installed.folder, 'blunt.json'), JSON.stringify({ ...settings, threshold: 120 }));
    const { code, out } = await installed.perchmark(
      'check',
      'suite.json',
      '--against',
      'blunt.json',
      '--json',
    );
    expect(code).toBe(1);
    expect(JSON.parse(out).clips[0].lost).toMatchObject([{ start: 2, end: 4.4 }]);
  });

  it('draws weather, which needs the scenes of the package, and adds what it drew', async () => {
    const scene = join(installed.own, 'clips', 'log-pile-calm.json');
    await said('weather', scene, 'windy', '--wind', '5');
    expect(await said('add', 'windy/frames', 'added', '--rate', '5')).toMatchObject({ frames: 1650 });
  });

  it('writes a report with its pictures and figures', async () => {
    const { code, err } = await installed.perchmark('diagnose', 'clip', ...under, '--report', 'why.html');
    expect(code, err).toBe(0);
    expect(filesIn(installed.folder)).toContain('why.html');
  });
});
