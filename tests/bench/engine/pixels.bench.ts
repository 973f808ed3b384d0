import { it } from 'vitest';
import { luminance } from '../../../src/engine/luminance.js';
import { createReference } from '../../../src/engine/reference.js';
import { smooth } from '../../../src/engine/smooth.js';
import { randomBytes, swayingFrames } from '../../engine/frames.js';
import { measure, print } from '../measure.js';

const [WIDTH, HEIGHT] = [320, 240];

it('the steps before evidence', async () => {
  const frames = swayingFrames(8, 'bench', { width: WIDTH, height: HEIGHT, part: 0.5, noise: 2 });
  const picture = randomBytes(640 * 480 * 3, 'picture');
  const out = new Uint8Array(WIDTH * HEIGHT);
  const previous = createReference({ kind: 'previous', lag: 1 }, out.length);
  const average = createReference({ kind: 'average', seconds: 2 }, out.length);
  previous.advance(frames[0]!, 0);
  average.advance(frames[0]!, 0);
  let k = 0;
  const next = () => frames[++k % frames.length]!;
  const times = await measure(
    {
      'luminance of 640x480 in colour': () => luminance(picture, 3, 640, 480, WIDTH, HEIGHT, out),
      'luminance of 600x450 in colour': () => luminance(picture, 3, 600, 450, WIDTH, HEIGHT, out),
      'luminance of 320x240 in colour': () => luminance(picture, 3, WIDTH, HEIGHT, WIDTH, HEIGHT, out),
      'smoothing, radius 1': () => smooth(next(), WIDTH, HEIGHT, 1, out),
      'smoothing, radius 8': () => smooth(next(), WIDTH, HEIGHT, 8, out),
      'difference from the previous frame': () => previous.difference(next(), null, out),
      'difference from the running average': () => average.difference(next(), null, out),
      'running average, moving on': () => average.advance(next(), 0.2),
    },
    { warmUp: 30, rounds: 200 },
  );
  print('One frame at 320x240', times);
});
