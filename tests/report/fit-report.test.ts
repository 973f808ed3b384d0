import { expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { agreementOf, momentsOf } from '../../src/fit/score/agreement.js';
import type { FitResult } from '../../src/jobs/fit.js';
import { fitReportHtml } from '../../src/report/fit-report.js';

const fired = Float64Array.from([12, 40, 41.5, 90, 130.2, 171, 222, 260, 299]);
const predicted = [12.2, 40, 60, 90.2, 130.4, 171.2, 222, 260.2, 275, 299.2];
const tolerance = { most: 0.5 };
const span = (from: number, to = from) => ({ from, to });
const result: FitResult = {
  clip: 'my <clip>',
  camera: cameraSchema.parse({
    version: 1,
    name: 'fitted camera',
    analysis: { width: 160, height: 120, rate: 5, smooth: 1 },
    reference: { kind: 'average', seconds: 3, whileBusy: 'continues' },
    area: 'changed',
  }),
  settings: { threshold: 18, minimumArea: 62, mostChanged: 19_200, persistence: 2, cooldown: 5 },
  offset: 37.7,
  drift: 0,
  agreement: { ...agreementOf(fired, predicted, tolerance), tolerance: 0.5 },
  moments: momentsOf(fired, predicted, tolerance),
  seconds: 300,
  asGiven: null,
  fired: { given: 9, triggers: 9, onClip: 9, afterPause: 9, photosEach: 1 },
  tells: 'enough',
  toldApart: true,
  heldOut: 0.75,
  equallyGood: [
    {
      look: {
        width: 80,
        height: 60,
        smooth: 0,
        reference: { kind: 'previous', lag: 3 },
        whileBusy: 'continues',
      },
      area: 'region',
      threshold: span(14, 15),
      minimumArea: span(13),
      persistence: span(1),
      cooldown: span(5),
      atLeast: true,
      mostChanged: null,
      f1: 0.9,
    },
  ],
  record: 'Things of several sizes would narrow it.',
  assumed: ['fired times without a zone are by the clock of the start'],
  notes: ['141 descriptions were tried'],
};

it('a report of fit draws every time once, and tells what explains them, what is as good and what to record', () => {
  const page = fitReportHtml(result);
  const marks = (text: string) => page.split(`: ${text}</title>`).length - 1;
  // Once on the wide line and once on the narrow one.
  expect(marks('the camera fired, and so does the description')).toBe(2 * 8);
  expect(marks('the camera fired, the description does not')).toBe(2 * 1);
  expect(marks('the description fires, the camera did not')).toBe(2 * 2);
  expect(page).toContain('0:41.5: the camera fired, the description does not');
  expect(page).toContain('my &#60;clip&#62;');
  expect(page).toContain('F1 0.842');
  expect(page).toContain('lie 37.7 s after those of the clip');
  expect(page).toContain('the frame 3 frames back; 80 x 60 smoothed by 0');
  expect(page).toContain('cooldown 5 (F1 0.900); so far at least, because no farther was looked');
  expect(page).toContain('Things of several sizes would narrow it.');
  expect(page).not.toMatch(/<script|http:\/\/(?!www\.w3\.org)|https:/);
});
