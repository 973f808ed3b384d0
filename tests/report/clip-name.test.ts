import { expect, it } from 'vitest';
import { clipName } from '../../src/report/clip-name.js';

it('a clip is called by its title, else by its folder, and marked where weather was put onto it', () => {
  const plain = { version: 1, frames: 'frames/*.png' } as const;
  expect(clipName({ dir: 'hedge', manifest: plain })).toBe('hedge');
  expect(clipName({ dir: 'hedge', manifest: { ...plain, title: 'A hedge' } })).toBe('A hedge');
  const simulated = { from: '../calm', seed: '7', wind: 5 };
  expect(clipName({ dir: 'hedge', manifest: { ...plain, title: 'A hedge', simulated } })).toBe(
    'A hedge (simulated)',
  );
});
