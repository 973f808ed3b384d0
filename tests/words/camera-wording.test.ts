import { expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { cameraSchema } from '../../src/camera/description.js';
import { traitChanges, traitsOf } from '../../src/words/camera-wording.js';

it('a camera is told by all that decides when it fires', () => {
  expect(traitsOf(defaultCamera)).toEqual([
    { what: 'pictures that it compares', is: '320 x 240 pixels, blurred by 1' },
    { what: 'how often it looks', is: '5 times a second' },
    { what: 'compares with', is: 'the frame before' },
    { what: 'what must be large enough', is: 'the largest connected region' },
    { what: 'when it fires', is: '2 photos, 1 s apart, the first after 0.5 s' },
    { what: 'dial for the threshold', is: 'sensitivity: 1 to 10 (80 to 8)' },
    { what: 'dial for the smallest area', is: 'minimumArea: 25, 50, 100, 200, 400, 800' },
    { what: 'dial for the most that may change', is: 'mostChanged: 5000, 20000, 76800' },
    { what: 'dial for pictures in a row', is: 'persistence: 1, 2, 3' },
    { what: 'dial for the rest after it fired', is: 'cooldown: 2, 5, 10, 30, 60' },
  ]);
});

it('only what differs is a change, a dial that goes too', () => {
  const { mostChanged: _, ...controls } = defaultCamera.controls;
  const reference = { kind: 'average', seconds: 20 };
  const other = cameraSchema.parse({ ...defaultCamera, reference, controls, burst: { photos: 1 } });
  expect(traitChanges(defaultCamera, other)).toEqual([
    { what: 'compares with', was: 'the frame before', is: 'an average over 20 s' },
    {
      what: 'when it fires',
      was: '2 photos, 1 s apart, the first after 0.5 s',
      is: '1 photo, the first after 0.5 s',
    },
    { what: 'dial for the most that may change', was: 'mostChanged: 5000, 20000, 76800', is: 'none' },
  ]);
});
