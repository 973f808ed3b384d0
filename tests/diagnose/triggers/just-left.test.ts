import { expect, it } from 'vitest';
import { cameraSchema } from '../../../src/camera/description.js';
import type { Box } from '../../../src/diagnose/diagnosis.js';
import type { ReplayedClip } from '../../../src/diagnose/replayed-clip.js';
import { justLeft, justLeftText } from '../../../src/diagnose/triggers/just-left.js';
import { labelsSchema } from '../../../src/score/labels.js';
import { smallCamera } from '../../support/clips.js';

const upperLeft: Box = [0, 0, 0.3, 0.3];
const lowerRight: Box = [0.7, 0.7, 0.3, 0.3];

/** A wren from 4 s to 6 s and an animal from 5 s to 5.6 s; looked at five times a second, against the frame before. */
function clipOf(more: { box?: Box; reference?: object } = {}) {
  const { box, reference } = more;
  const visits = [
    { start: 4, end: 6, name: 'wren', ...(box && { box }) },
    { start: 5, end: 5.6 },
  ];
  const labels = labelsSchema.parse({ version: 1, visits });
  const judged = labels.visits.map((visit) => ({ ...visit, caught: true }));
  return {
    clip: { labels },
    judged: { visits: judged },
    camera: cameraSchema.parse({ ...smallCamera, ...(reference && { reference }) }),
  } as unknown as Pick<ReplayedClip, 'clip' | 'camera' | 'judged'>;
}

it.each<[what: string, time: number, name: string | null | undefined]>([
  ['while it was in view', 5.8, 'wren'],
  ['at the very end of it', 6, 'wren'],
  ['within what the camera remembers and half a second', 6.7, 'wren'],
  ['later', 6.8, undefined],
  ['before it came', 3.9, undefined],
])('a false trigger %s is put down to that visit or to none', (_, time, name) => {
  expect(justLeft(clipOf(), time, upperLeft, 'insect')?.name).toBe(name);
});

it('a camera that compares with an average remembers for longer', () => {
  const average = clipOf({ reference: { kind: 'average', seconds: 3 } });
  expect(justLeft(average, 9.4, upperLeft, 'insect')?.name).toBe('wren');
  expect(justLeft(average, 9.6, upperLeft, 'insect')).toBeNull();
});

it('where labels say where the animal was, what fired must lie there', () => {
  const there = clipOf({ box: upperLeft });
  expect(justLeft(there, 6.2, [0.2, 0.2, 0.2, 0.2], 'wind')?.name).toBe('wren');
  expect(justLeft(there, 6.2, lowerRight, 'wind')?.name).not.toBe('wren');
});

it('where they do not, what moves like leaves is left to the model', () => {
  expect(justLeft(clipOf(), 5.8, upperLeft, 'wind')).toBeNull();
  expect(justLeft(clipOf(), 5.8, upperLeft, 'unknown')?.name).toBe('wren');
});

it('says which visit, and by how much it was missed', () => {
  const wren = { start: 4, end: 6, name: 'wren' };
  expect(justLeftText(wren, 6.2, 7)).toMatch(/^The wren of 0:04-0:06 had left 0\.2 s before, .*\.$/);
  expect(justLeftText({ ...wren, name: null }, 5.8, 6.6)).toBe(
    'The animal of 0:04-0:06 was in view when it fired, and gone before the photo, 0.8 s later.',
  );
});
