import { expect, it } from 'vitest';
import { meterForMany } from '../../../src/engine/compiled/meter.js';
import { EvidenceMeter } from '../../../src/engine/evidence.js';
import { Differencer } from '../../../src/engine/pipeline.js';
import { swayingFrames } from '../../engine/frames.js';
import { Labelling } from '../../oracle/opencv.js';
import { measure, print, printRatio, processorTime } from '../measure.js';

const [WIDTH, HEIGHT] = [320, 240];
const SIZE = { width: WIDTH, height: HEIGHT };
/** A camera's dial of 64 thresholds. */
const DIAL = Array.from({ length: 64 }, (_, i) => 6 + i);
const CAMERA = { ...SIZE, smooth: 1, reference: { kind: 'previous', lag: 1 }, mask: null } as const;

/** Half the frame is foliage that sways; all of it has noise of two grey levels. */
const SWAYING = swayingFrames(12, 'bench', { ...SIZE, part: 0.5, noise: 2 });
const CALM = swayingFrames(12, 'bench', { ...SIZE, part: 0, noise: 2 });

function differencesOf(frames: readonly Uint8Array[]): Uint8Array[] {
  const differencer = new Differencer(CAMERA);
  return frames.map((frame, k) => differencer.next(frame, k / 5).slice()).slice(1);
}

/** Labels every frame at one threshold after another: the peer. */
function labelled(differences: readonly Uint8Array[], levels: readonly number[]): () => void {
  const labelling = new Labelling(WIDTH, HEIGHT);
  return () => {
    for (const difference of differences) {
      labelling.load(difference);
      for (const level of levels) labelling.largest(level);
    }
  };
}

function measured(
  differences: readonly Uint8Array[],
  floor: number,
  meter = meterForMany(WIDTH, HEIGHT, floor),
): () => void {
  return () => {
    for (const difference of differences) meter.measure(difference);
  };
}

it('all 255 thresholds of a swaying frame against one labelling of it', async () => {
  const differences = differencesOf(SWAYING);
  const times = await measure(
    {
      'evidence, thresholds 1 to 255': measured(differences, 1),
      'evidence, thresholds 6 to 255': measured(differences, 6),
      'the same without WebAssembly, 1 to 255': measured(differences, 1, new EvidenceMeter(WIDTH, HEIGHT)),
      'opencv-wasm, threshold 6': labelled(differences, [6]),
      'opencv-wasm, threshold 12': labelled(differences, [12]),
      'opencv-wasm, threshold 24': labelled(differences, [24]),
    },
    { now: processorTime },
  );
  print('A frame of 320x240, half of it swaying', times, differences.length);
  const ratio = times['evidence, thresholds 1 to 255'].median / times['opencv-wasm, threshold 24'].median;
  printRatio('all 255 thresholds / opencv-wasm at threshold 24', ratio, 'at most 2');
  expect(ratio).toBeLessThanOrEqual(2);
});

it('a dial of 64 thresholds over a clip against one labelling for each', async () => {
  const differences = differencesOf(SWAYING);
  const differencer = new Differencer(CAMERA);
  const meter = meterForMany(WIDTH, HEIGHT, DIAL[0]);
  let time = 0;
  const times = await measure(
    {
      'smoothing, difference and evidence': () => {
        for (const frame of SWAYING.slice(1)) meter.measure(differencer.next(frame, time++));
      },
      'opencv-wasm, labelling alone': labelled(differences, DIAL),
    },
    { warmUp: 5, rounds: 15, now: processorTime },
  );
  print('Thresholds 6 to 69 of a frame of 320x240, half of it swaying', times, differences.length);
  const ratio =
    times['opencv-wasm, labelling alone'].median / times['smoothing, difference and evidence'].median;
  printRatio('opencv-wasm / evidence', ratio, 'at least 30');
  expect(ratio).toBeGreaterThanOrEqual(30);
});

it('a calm frame against one labelling of it', async () => {
  const differences = differencesOf(CALM);
  const times = await measure(
    {
      'evidence, thresholds 6 to 255': measured(differences, DIAL[0]!),
      'opencv-wasm, threshold 6': labelled(differences, [6]),
    },
    { now: processorTime },
  );
  print('A calm frame of 320x240, its noise below the lowest threshold', times, differences.length);
  const ratio = times['evidence, thresholds 6 to 255'].median / times['opencv-wasm, threshold 6'].median;
  printRatio('evidence / opencv-wasm', ratio, 'at most 1');
  expect(ratio).toBeLessThanOrEqual(1);
});
