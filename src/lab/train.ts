import { fileURLToPath } from 'node:url';
import { entryNames } from '../diagnose/triggers/measures/measures.js';
import { outputs, probabilities, type Weights } from '../diagnose/triggers/model/network.js';
import { writeAtomic } from '../files/atomic.js';
import { Cache } from '../store/cache.js';
import { jsonKey } from '../store/key.js';
import { calibrated, fitNetworks } from './fit.js';
import { gardenLesson, type Lesson, type Subject, subjects, textureLesson, type Use } from './lessons.js';
import { ruled } from './rules.js';
import { type Sample, samplesOf } from './samples.js';
import { calibration, type Judgement, judged } from './score.js';
import { tensors } from './tensors.js';

/** The scenes of each subject by number, first and past the last. Gardens to judge by start at 100: lower ones were looked at while measures were chosen. */
const SCENES: Record<Use, { gardens: [number, number]; textures: [number, number] }> = {
  learn: { gardens: [0, 44], textures: [0, 30] },
  calibrate: { gardens: [0, 10], textures: [0, 8] },
  judge: { gardens: [100, 118], textures: [0, 0] },
};
const SEED = 'perchmark';
/** Raised whenever a lesson gives other samples: another measure, another way of drawing. */
const MEANING = 1;

/**
 * `npm run train`: draws the lessons (what is drawn is kept in the cache, so that it can be interrupted), trains the
 * cause model, calibrates it, judges it against the rules, and writes its weights into the source.
 */
async function train(): Promise<void> {
  const cache = new Cache();
  const learn = await lessonSamples('learn', cache);
  const spare = await lessonSamples('calibrate', cache);
  const unseen = await lessonSamples('judge', cache);
  const weights = calibrated(await fitNetworks(await tensors(), learn, SEED), spare);
  const all = unseen.map((s) => probabilities(weights, s.vector));
  const said = all.map((p) => outputs[p.indexOf(Math.max(...p))] as (typeof outputs)[number]);
  const truth = unseen.map((s) => s.cause);
  const stated = calibration(
    all.map((p) => Math.max(...p)),
    said.map((cause, i) => cause === truth[i]),
  );
  process.stdout.write(
    [
      `${learn.length} triggers learnt from, ${spare.length} to calibrate, ${unseen.length} to judge by`,
      judgementText('model', judged(truth, said)),
      judgementText(
        'rules',
        judged(
          truth,
          unseen.map((s) => ruled(s.vector)),
        ),
      ),
      `Temperature ${weights.temperature}; expected calibration error ${stated.error.toFixed(3)}`,
      ...stated.bands.map((b) => `  said ${b.stated.toFixed(2)}, was right ${b.right.toFixed(2)} of ${b.n}`),
      '',
    ].join('\n'),
  );
  const file = fileURLToPath(new URL('../../src/diagnose/triggers/model/weights.ts', import.meta.url));
  await writeAtomic(file, sourceOf(weights));
}

async function lessonSamples(use: Use, cache: Cache): Promise<Sample[]> {
  const lessons = [
    ...lessonsOf(SCENES[use].gardens, (subject, seed) => gardenLesson(subject, seed, use)),
    ...lessonsOf(SCENES[use].textures, (subject, seed) => textureLesson(subject, seed, use)),
  ];
  const samples: Sample[] = [];
  for (const [i, lesson] of lessons.entries()) {
    const entry = ['lessons', jsonKey(MEANING, entryNames, lesson)];
    const kept = await cache.read(entry);
    const found = kept ? (JSON.parse(kept.toString()) as Sample[]) : await samplesOf(lesson);
    if (!kept) await cache.write(entry, Buffer.from(JSON.stringify(found)));
    samples.push(...found);
    process.stderr.write(`\r${use}: ${i + 1} of ${lessons.length} scenes, ${samples.length} triggers `);
  }
  process.stderr.write('\n');
  return samples;
}

function lessonsOf(
  [from, before]: [number, number],
  make: (subject: Subject, seed: string) => Lesson,
): Lesson[] {
  const seeds = Array.from({ length: before - from }, (_, i) => String(from + i));
  return seeds.flatMap((seed) => subjects.map((subject) => make(subject, seed)));
}

function judgementText(name: string, { confusion, f1, macroF1, accuracy }: Judgement): string {
  const head = ['true \\ said', ...outputs, 'F1'];
  const rows = confusion.map((row, c) => [outputs[c], ...row, f1[c]!.toFixed(2)]);
  const lines = [head, head.map(() => '---'), ...rows].map((cells) => `| ${cells.join(' | ')} |`);
  return `\n${name}: macro-F1 ${macroF1.toFixed(3)}, right ${(100 * accuracy).toFixed(1)} %\n${lines.join('\n')}\n`;
}

function sourceOf({ inputs, mean, deviation, networks, temperature }: Weights): string {
  const list = (values: readonly (number | string)[]) =>
    `[${values.map((v) => JSON.stringify(v)).join(',')}]`;
  const each = networks.map((layers) =>
    layers.map(({ kernel, bias }) => `{kernel:${list(kernel)},bias:${list(bias)}}`).join(',\n'),
  );
  return `// biome-ignore-all lint/suspicious/noApproximativeNumericConstant: a weight comes near a constant by chance
import type { Weights } from './network.js';

// Written by \`npm run train\`: never by hand.
// biome-ignore format: one value a line would be thousands of lines
export const weights: Weights = {inputs:${list(inputs)},
mean:${list(mean)},
deviation:${list(deviation)},
networks:[${each.map((layers) => `[${layers}]`).join(',\n')}],
temperature:${temperature}};
`;
}

await train();
