import { describe, expect, it } from 'vitest';
import type { CamerasCompared, CameraTold } from '../../src/jobs/tune/cameras-told.js';
import { cameraRows, explainCameras } from '../../src/words/cameras.js';

type Which = CamerasCompared['whichCamera'];

/** A camera that caught so many of nine visits on footage left out, and took so many photos of nothing an hour there. */
function told(
  camera: string,
  caught: number,
  nothingPerHour: number,
  rest: Partial<CameraTold> = {},
): CameraTold {
  return {
    camera,
    file: null,
    width: 160,
    height: 120,
    rate: 2,
    pixelsPerSecond: 38_400,
    work: 1,
    searched: 192,
    triesAll: true,
    sites: [],
    leftOut: { visits: 9, caught, nothingPerHour, against: null },
    verdict: null,
    ...rest,
  };
}
const small = (caught: number, photos: number) => told('small and slow camera', caught, photos);
const previous = (caught: number, photos: number) =>
  told('previous-frame camera', caught, photos, { pixelsPerSecond: 384_000, work: 10, verdict: 'as good' });

function said(cameras: CameraTold[], rest: Partial<Which>): string {
  const which: Which = {
    best: cameras[0]!.camera,
    chosenAnew: null,
    verdict: 'keep',
    enough: null,
    samePower: true,
    ...rest,
  };
  return explainCameras({ cameras, whichCamera: which }).join(' ');
}

describe('which camera, where the promise and what was left out part', () => {
  it('names the one that caught more with no more photos, and says what a promise goes by', () => {
    expect(said([small(7, 790), previous(9, 790)], {})).toMatch(
      /none promises more than small and slow camera does\. But on what was left out previous-frame camera caught more, 9 of 9, small and slow camera 7, with no more photos of nothing: rather previous-frame camera.* A promise goes by /,
    );
  });

  it('says so too where the first of them is the one that caught more', () => {
    const best = 'small and slow camera';
    expect(said([previous(9, 790), small(7, 790)], { best, verdict: 'too little to tell' })).toMatch(
      /small and slow camera promises most on all of the footage\. But .*: rather previous-frame camera/,
    );
  });

  it('gives the price where more visits cost more photos', () => {
    const text = said([small(7, 10), previous(9, 20)], {});
    expect(text).toContain('but with more photos of nothing, 480 a day instead of 240');
    expect(text).not.toContain('rather');
  });

  it('adds nothing where none caught more', () => {
    expect(said([small(9, 790), previous(9, 700)], {})).not.toContain('left out');
  });
});

describe('how much a camera compares', () => {
  it('is told as so many times the first, and below it as a share', () => {
    expect(said([small(9, 0), previous(9, 0)], {})).toContain(
      "384000 pixels compared a second, 10 times the first's",
    );
    const tenth = told('small and slow camera', 9, 0, { work: 0.1 });
    expect(said([previous(9, 0), tenth], {})).toContain(
      "38400 pixels compared a second, 10 % of the first's",
    );
  });
});

it('the camera that all are held against is called so in the table', () => {
  expect(cameraRows([small(9, 0), previous(9, 0)]).map((row) => row.at(-1))).toEqual([
    'the first',
    'as well',
  ]);
});
