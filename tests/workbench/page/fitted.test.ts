import { expect, it } from 'vitest';
import { defaultCamera } from '../../../src/camera/default.js';
import { fitted, misfitOf } from '../../../src/workbench/page/views/camera/fitted.js';

const SMALL = 160 * 120;

it('dials that stand in fit pictures of every size offered', () => {
  expect(misfitOf(fitted(defaultCamera.controls, SMALL), SMALL)).toBeNull();
  expect(fitted(defaultCamera.controls, SMALL).mostChanged).toMatchObject({ choices: [5000, SMALL] });
  expect(fitted(defaultCamera.controls, 320 * 240)).toEqual(defaultCamera.controls);
});

it('what does not fit is said of the dial by its name, and not by its place in a file', () => {
  const far = { most: { sets: 'mostChanged' as const, choices: [100, 20_000] } };
  expect(misfitOf(far, SMALL)).toBe(
    'most: expected a number from 1 to 19200 (pixels of the whole frame), found 20000',
  );
});
