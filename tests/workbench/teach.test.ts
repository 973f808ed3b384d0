import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { diagnose } from '../../src/jobs/diagnose.js';
import { Cache } from '../../src/store/cache.js';
import { taughtText } from '../../src/words/teach-wording.js';
import type { ClipAsked, DiagnosisTold } from '../../src/workbench/diagnosis-protocol.js';
import type { StreamLine } from '../../src/workbench/protocol.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { scratch, served } from '../support/workbench.js';

const FRAMES = 9 * 160;
/** A patch goes to and fro for two seconds, three times in each of nine half minutes and more. */
const framesOf = (seed: string) =>
  drawFrames(
    FRAMES,
    (k) => (k % 160 < 60 && k % 20 < 10 ? { x: k % 2 ? 2 : 6, y: 38, size: 8, level: 60 } : null),
    seed,
  );

it('what was told of one clip of a site is learnt from in another, as perchmark diagnose --teach does', async () => {
  const root = scratch();
  const camera = cameraSchema.parse(smallCamera);
  writeFileSync(join(root, 'camera.json'), JSON.stringify(camera));
  const labels = { version: 1 as const, visits: [] };
  const rate = { rate: 5 };
  // None of which the model as it came would say.
  const causes = [{ start: 0, end: 288, cause: 'shadow' }];
  const at = (site: string) => ({ ...rate, site });
  await writeClip(join(root, 'morning'), framesOf('morning'), { ...labels, causes }, at('hedge'));
  await writeClip(join(root, 'evening'), framesOf('evening'), labels, at('hedge'));
  await writeClip(join(root, 'elsewhere'), framesOf('elsewhere'), { ...labels, causes }, at('pond'));
  // Teaches nothing, and is no reason to stop.
  await writeClip(join(root, 'broken'), [], null, at('hedge'));
  const settings = { version: 1 as const, threshold: 18, minimumArea: 16, cooldown: 1 };

  const address = await served(root);
  const body: ClipAsked = { settings, labels, teach: true };
  const answer = await fetch(`${address}api/clips/evening/diagnosis`, {
    method: 'POST',
    body: JSON.stringify(body),
  });
  const lines = (await answer.text())
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as StreamLine<DiagnosisTold>);
  const last = lines.at(-1)!;
  const told = 'result' in last ? last.result : null;

  const whole = await diagnose(
    { clips: [join(root, 'evening'), join(root, 'morning')], camera, settings, teach: true },
    { cache: new Cache(scratch()) },
  );
  expect(whole.taught).toMatchObject([{ site: 'hedge', verdict: 'better' }]);
  expect(told?.taught).toBe(whole.taught!.map(taughtText).join(' '));
  const ofClip = told?.explained.map(({ time, cause }) => [time, cause]);
  expect(ofClip).toEqual(whole.clips[0]!.explained.map(({ time, cause }) => [time, cause]));
  expect(new Set(ofClip?.map(([, cause]) => cause))).toEqual(new Set(['shadow']));
  expect(told?.notes).toContainEqual(expect.stringMatching(/^not learnt from: .*broken/));
});
