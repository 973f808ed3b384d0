import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { defaultCamera } from '../../../src/camera/default.js';
import { aboutStart } from '../../../src/clip/start.js';
import { fromZero } from '../../../src/clip/times.js';
import { momentOf, offsetOf } from '../../../src/jobs/evening/clock.js';
import { hoursGiven } from '../../../src/jobs/evening/hours.js';
import { assumptions, notesOn } from '../../../src/jobs/evening/words.js';
import { countedNotes } from '../../../src/jobs/fit/counted.js';
import { cardNote } from '../../../src/jobs/plan/card-note.js';
import { otherwiseTuned } from '../../../src/jobs/plan/otherwise-tuned.js';
import { unsaidText } from '../../../src/jobs/tune/unsaid.js';
import { verdictText } from '../../../src/words/evening-wording.js';
import { explainLimit } from '../../../src/words/explain-limit.js';
import { noDarknessText } from '../../../src/words/plan-wording.js';
import { CALLED, inOwnWords } from '../../../src/workbench/page/parts/own-words.js';
import { grid } from '../../tune/swept.js';

/** A part of what a message is told from, where the rest of it says nothing. */
const only = <T>(part: object): T => part as unknown as T;

function refused(run: () => unknown): string {
  try {
    run();
  } catch (error) {
    return (error as Error).message;
  }
  throw new Error('expected it to be refused');
}

/** A message that only a long job says, as it stands in its source. */
function inSource(file: string): string {
  return readFileSync(new URL(`../../../src/${file}`, import.meta.url), 'utf8');
}

const limited = (limit: object) =>
  explainLimit(only<Parameters<typeof explainLimit>[0]>({ limit: { clip: 'a', leftOut: [], ...limit } }));
const shortClip = limited({ visits: 7, inWhole: 9, tells: 'too little', levels: [] }).join(' ');
const [dialsElsewhere = ''] = otherwiseTuned(0, 1, grid, { kind: 'worth' });

function evening(): string[] {
  const withheld = (why: string) => ({ withheld: why, photosPerTrigger: 3 });
  const verdict = (of: object) =>
    verdictText(only<Parameters<typeof verdictText>[0]>({ verdict: 'held', out: null, ...of }));
  const outing = (said: object) =>
    only<Parameters<typeof assumptions>[0]>({ out: { said }, photos: [1, 2, 3], counted: [1] });
  const promised = (of: object) =>
    only<Parameters<typeof assumptions>[1]>({ withheld: null, photosPerTrigger: 3, clock: 0, ...of });
  const timed = [0, 60, 7200].map((time) => ({ name: 'a', time, seen: null }));
  const hours = (given: object) =>
    refused(() => hoursGiven({ folder: 'evening', ...given }, only<Parameters<typeof hoursGiven>[1]>(timed)));
  const long = only<Parameters<typeof notesOn>[3]>({ from: 0, until: 400_000 });
  const notes = (of: object, camera: typeof defaultCamera | null) =>
    notesOn(null, 0, 3, long, only<Parameters<typeof notesOn>[4]>(of), camera);
  return [
    refused(() => momentOf('--from', 'x', 0)),
    refused(() => momentOf('--until', 'x', 0)),
    refused(() => offsetOf('--clock', 'x')),
    refused(() => offsetOf('--clock', '+99')),
    refused(() => hoursGiven({ folder: 'evening', from: '06:00' }, [])),
    hours({ from: '1970-01-01 02:00', until: '1970-01-01 01:00' }),
    hours({ from: '1970-01-01 09:00' }),
    verdict({ promised: withheld('clock not known') }),
    verdict({ promised: withheld('photos a trigger not known') }),
    verdict({ promised: withheld('other photos a trigger') }),
    verdict({ promised: { withheld: null } }),
    ...[{}, { from: true }, { until: true }].flatMap((said) => assumptions(outing(said), null, null)),
    ...assumptions(null, promised({ saidBy: 'photos' }), null),
    ...notes({ saidBy: 'camera', shown: 2, photosPerTrigger: 3 }, defaultCamera),
    ...notes({ saidBy: 'photos', shown: 2, photosPerTrigger: 3 }, defaultCamera),
  ];
}

const stuckClock = refused(() =>
  fromZero([0, 0.4, 0.4], (i) => `pond.mkv (frame ${i})`, 'say how many were taken evenly a second'),
);

/** Messages as the server says them, made by what makes them. */
const said = [
  ...evening(),
  ...countedNotes(
    { given: 3, times: [0, 1, 2], burst: null },
    { what: 'photo', base: null, said: undefined },
  ),
  cardNote(1000, 24, { ...defaultCamera, storage: { cardGB: 16, photoMB: 4 } }) ?? '',
  shortClip,
  ...limited({
    tells: 'a limit',
    levels: [{ lux: 10 }],
    lux: { value: 3, low: 1, high: 5 },
    times: null,
    missing: ['start', 'place'],
  }),
  dialsElsewhere,
  stuckClock,
  aboutStart('hedge', null),
  aboutStart('hedge', { start: '2026-05-04T06:10:00Z', says: 'EXIF with its zone' }),
  unsaidText('log pile', [{ clip: 'hedge', recordedIn: null, simulated: false }]) ?? '',
  noDarknessText({ placeKnown: false }) ?? '',
  ...['jobs/fit/fitted-camera.ts', 'jobs/plan/evidence-for.ts', 'words/plan-wording.ts'].map(inSource),
];

it.each(CALLED.map(([words]) => [String(words), words] as const))(
  '%s is still said by the server',
  (_, words) => {
    expect(said.filter((line) => words.test(line))).not.toEqual([]);
  },
);

it('leaves no option of the command line in what the page tells of an evening', () => {
  expect(
    evening()
      .map(inOwnWords)
      .filter((line) => / --\w|camera\.json|clip\.json/.test(line)),
  ).toEqual([]);
});

it('says where on the page all of a short clip is looked through, and no option of the command line', () => {
  expect(inOwnWords(shortClip)).toMatch(/All of the clip takes longer: Coming days looks through it\.$/);
});

it('says of other dials that Answer advises them', () => {
  expect(inOwnWords(dialsElsewhere)).toMatch(
    /^For all that was recorded, whatever is foretold, Answer advises /,
  );
});

it('says what to choose on the page where the times of a recording cannot be', () => {
  expect(inOwnWords(stuckClock)).toBe(
    'pond.mkv (frame 2): its time 0.4 s is not after 0.4 s of the frame before it; times must rise from frame to frame: choose “Evenly” below, and say how many were taken a second',
  );
});
