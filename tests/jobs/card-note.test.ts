import { expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { cardNote } from '../../src/jobs/plan/card-note.js';

// 16 GB in photos of 4 MB are 4,000.
const camera = { ...defaultCamera, storage: { cardGB: 16, photoMB: 4 } };

it('tells of a card that photos of nothing fill within a day', () => {
  expect(cardNote(401, 10, camera)).toMatch(/^About 4010 photos.*more than the card holds.*some 4000 photos/);
  expect(cardNote(400, 10, camera)).toBeNull();
});

it('tells them to two figures, as the plan beside it does', () => {
  expect(cardNote(1120.7, 10, camera)).toMatch(/^About 11000 photos of nothing a day/);
});
