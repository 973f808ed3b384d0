import { describe, expect, it } from 'vitest';
import { type Camera, cameraSchema } from '../../../src/camera/description.js';
import type { CameraFound } from '../../../src/workbench/fit-protocol.js';
import { takenOver } from '../../../src/workbench/page/views/camera/taken-over.js';

const cameraOf = (name: string, controls: object, shutterLag = 0.5): Camera =>
  cameraSchema.parse({
    version: 1,
    name,
    analysis: { width: 160, height: 120, rate: 5, smooth: 1 },
    reference: { kind: 'previous', lag: 1 },
    shutterLag,
    burst: { photos: 2, interval: 1 },
    controls,
  });
const own = cameraOf('the shed camera', {
  sensitivity: { sets: 'threshold', from: 1, to: 3, step: 1, gives: [60, 20] },
  size: { sets: 'minimumArea', choices: [25, 50] },
  rest: { sets: 'cooldown', choices: [3, 10] },
});
const found = (known: boolean, cooldown = 3): CameraFound => ({
  ...{ clip: 'hedge', known, warnings: [] },
  // What else was found is not taken over.
  result: {
    camera: cameraOf('fitted camera', { level: { sets: 'threshold', choices: [27] } }, 0.1),
    settings: { threshold: 27, minimumArea: 25, mostChanged: 19_200, persistence: 1, cooldown },
  } as CameraFound['result'],
});

describe('of a camera that was found', () => {
  it('the owner’s name, lag and dials stay, and the dials hold what was found', () => {
    const part = takenOver(found(false), own);
    expect({ ...own, ...part }).toMatchObject({ name: 'the shed camera', shutterLag: 0.5 });
    expect(part.controls).toEqual({
      threshold: { sets: 'threshold', choices: [60, 40, 27, 20] },
      size: { sets: 'minimumArea', choices: [25, 50] },
      rest: { sets: 'cooldown', choices: [3, 10] },
    });
  });

  it('the dials are taken that it was found with, where they were held against it', () => {
    expect(takenOver(found(true), own)).toMatchObject({
      controls: { level: { sets: 'threshold', choices: [27] } },
      shutterLag: 0.1,
    });
  });

  it('the lag is taken too where it would last longer than the camera rests', () => {
    expect(takenOver(found(false, 1.2), own)).toMatchObject({ shutterLag: 0.1 });
  });

  it('all is taken where none is described', () => {
    expect(takenOver(found(false), null)).toEqual(found(false).result.camera);
  });
});
