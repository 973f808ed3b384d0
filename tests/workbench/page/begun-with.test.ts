import { expect, it } from 'vitest';
import { defaultCamera } from '../../../src/camera/default.js';
import { cameraSchema } from '../../../src/camera/description.js';
import { begunWith } from '../../../src/workbench/page/views/camera/begun-with.js';

const mine = cameraSchema.parse({
  ...defaultCamera,
  name: 'pile camera',
  lens: { hfov: 62 },
  power: { mAh: 10_000 },
  controls: { Bewegung: { sets: 'threshold', choices: [10, 20] } },
});
const slow = cameraSchema.parse({
  ...defaultCamera,
  name: 'slow',
  analysis: { width: 160, height: 120, rate: 2, smooth: 0 },
  area: 'changed',
});

it("takes over what decides when it fires, and leaves the owner's lens, battery and name", () => {
  const after = { ...mine, ...begunWith(mine, slow, false, ['slow']) };
  expect(after).toEqual({ ...slow, name: 'pile camera', lens: mine.lens, power: mine.power });
});

it('leaves the dials where they are to be kept', () => {
  expect({ ...mine, ...begunWith(mine, slow, true, ['slow']) }.controls).toEqual(mine.controls);
});

it('a name that came with an offered camera goes with it', () => {
  const { name } = { ...slow, ...begunWith(slow, defaultCamera, true, ['slow', defaultCamera.name]) };
  expect(name).toBe(defaultCamera.name);
});
