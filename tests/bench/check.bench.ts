import { execFile } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, expect, it } from 'vitest';
import { measure, print, printRatio } from './measure.js';
import { scratch, writeStills } from './recordings.js';

const CLIPS = 10;
/** A minute each. */
const FRAMES = 300;
const bin = fileURLToPath(new URL('../../bin/perchmark.js', import.meta.url));
const { folder, remove } = scratch();
afterAll(remove);

/** The whole program, from its start to its end. */
function check(...args: string[]): Promise<unknown> {
  const env = { ...process.env, PERCHMARK_CACHE: join(folder, 'cache') };
  return promisify(execFile)(process.execPath, [bin, 'check', join(folder, 'suite.json'), ...args], { env });
}

it('a check of ten clips with evidence kept against the first', async () => {
  const names = Array.from({ length: CLIPS }, (_, k) => `clip ${k}`);
  for (const [k, name] of names.entries()) {
    await writeStills(join(folder, name), FRAMES, k / (2 * CLIPS));
    const visits = [{ start: 10 + k, end: 20 + k, type: 'animal' }];
    writeFileSync(join(folder, name, 'labels.json'), JSON.stringify({ version: 1, visits }));
  }
  const settings = { version: 1, threshold: 24, minimumArea: 100, cooldown: 10 };
  writeFileSync(join(folder, 'suite.json'), JSON.stringify({ version: 1, clips: names, settings }));

  const began = performance.now();
  await check('--accept', '--why', 'a bench');
  const first = performance.now() - began;
  const times = await measure({ 'a check with evidence kept': () => check() }, { warmUp: 1, rounds: 5 });
  print(`A suite of ${CLIPS} clips of ${FRAMES} stills of 640x480`, times);
  const ratio = times['a check with evidence kept'].median / first;
  printRatio(`with evidence kept / the first (${first.toFixed(0)} ms)`, ratio, 'at most 0.1');
  expect(ratio).toBeLessThanOrEqual(0.1);
});
