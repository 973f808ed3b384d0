import { describe, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { aboutStart } from '../../src/clip/start.js';
import { momentOf, offsetOf } from '../../src/jobs/evening/clock.js';
import { BY_OPTIONS, hoursGiven } from '../../src/jobs/evening/hours.js';
import { assumptions, notesOn } from '../../src/jobs/evening/words.js';
import { countedNotes } from '../../src/jobs/fit/counted.js';
import { cardNote } from '../../src/jobs/plan/card-note.js';
import { otherwiseTuned } from '../../src/jobs/plan/otherwise-tuned.js';
import { unsaidText } from '../../src/jobs/tune/unsaid.js';
import { verdictText } from '../../src/words/evening-wording.js';
import { explainLimit } from '../../src/words/explain-limit.js';
import { noDarknessText } from '../../src/words/plan-wording.js';
import { grid } from '../tune/swept.js';

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

const limited = (limit: object) =>
  explainLimit(only<Parameters<typeof explainLimit>[0]>({ limit: { clip: 'a', leftOut: [], ...limit } }));

const fields = { clock: 'The camera’s clock', from: 'Out from', until: 'Out until' };
const ways = { hours: 'say when', clock: 'say below', camera: 'describe it in Camera' };

function evening(): string[] {
  const verdict = (of: object) =>
    verdictText(only<Parameters<typeof verdictText>[0]>({ verdict: 'held', out: null, ...of }), ways);
  const withheld = (why: string) => verdict({ promised: { withheld: why, photosPerTrigger: 3 } });
  const outing = (said: object) =>
    only<Parameters<typeof assumptions>[0]>({ out: { said }, photos: [1, 2, 3], counted: [1] });
  const promised = (of: object) =>
    only<Parameters<typeof assumptions>[1]>({ withheld: null, photosPerTrigger: 3, clock: 0, ...of });
  const timed = [0, 60, 7200].map((time) => ({ name: 'a', time, seen: null }));
  const hours = (given: object) =>
    refused(() =>
      hoursGiven(
        { folder: 'evening', called: fields, ...given },
        only<Parameters<typeof hoursGiven>[1]>(timed),
      ),
    );
  const long = only<Parameters<typeof notesOn>[3]>({ from: 0, until: 400_000 });
  const notes = (of: object) =>
    notesOn(null, 0, 3, long, only<Parameters<typeof notesOn>[4]>(of), defaultCamera);
  return [
    refused(() => momentOf(fields.from, 'x', 0)),
    refused(() => offsetOf(fields.clock, '+99')),
    refused(() => hoursGiven({ folder: 'evening', from: '06:00', called: fields }, [])),
    hours({ from: '1970-01-01 02:00', until: '1970-01-01 01:00' }),
    hours({ from: '1970-01-01 09:00' }),
    hours({ until: '1969-12-31 09:00' }),
    withheld('clock not known'),
    withheld('photos a trigger not known'),
    withheld('other photos a trigger'),
    verdict({ promised: { withheld: null } }),
    ...[{}, { from: true }, { until: true }].flatMap((said) => assumptions(outing(said), null, null)),
    ...assumptions(null, promised({ saidBy: 'photos' }), null),
    ...assumptions(null, promised({ saidBy: 'promise' }), null),
    ...notes({ saidBy: 'camera', shown: 2, photosPerTrigger: 3 }),
    ...notes({ saidBy: 'photos', shown: 2, photosPerTrigger: 3 }),
  ];
}

describe('what page and terminal tell alike', () => {
  const told: [string, string[]][] = [
    ['an evening', evening()],
    [
      'photos counted',
      countedNotes(
        { given: 3, times: [0, 1, 2], burst: null },
        { what: 'photo', base: null, said: undefined },
      ),
    ],
    ['a full card', [cardNote(1000, 24, { ...defaultCamera, storage: { cardGB: 16, photoMB: 4 } }) ?? '']],
    ['a short clip', limited({ visits: 7, inWhole: 9, tells: 'too little', levels: [] })],
    ['other dials', otherwiseTuned(0, 1, grid, { kind: 'worth' })],
  ];

  it.each(told)('names no option and no verb of the command line: %s', (_, lines) => {
    expect(lines.length).toBeGreaterThan(0);
    expect(lines.filter((line) => /(?:^|[ (])--\w|\btune\b|NaN|undefined/.test(line))).toEqual([]);
  });

  it('says where on the page and in which file more is to be said of a clip', () => {
    const clips = [{ clip: 'hedge', recordedIn: null, simulated: false }];
    const lines = [
      aboutStart('hedge', null),
      aboutStart('hedge', { start: '2026-05-04T06:10:00Z', says: 'EXIF with its zone' }),
      unsaidText('log pile', clips),
      noDarknessText({ placeKnown: false }),
      limited({
        tells: 'a limit',
        levels: [{ lux: 10 }],
        lux: { value: 3, low: 1, high: 5 },
        times: null,
        missing: ['start'],
      }).at(-1),
    ];
    for (const line of lines) {
      expect(line).toMatch(/ in clip\.json \(.+\), or on the page under "About this clip"/);
    }
  });
});

it('what the command line calls an option, the page calls by its field', () => {
  const given = { folder: 'evening', from: '06:00', until: '05:00' };
  const photos = only<Parameters<typeof hoursGiven>[1]>([{ name: 'a', time: 0, seen: null }]);
  expect(refused(() => hoursGiven({ ...given, called: BY_OPTIONS }, photos))).toMatch(
    /^--until: expected a time after that of --from, /,
  );
  expect(refused(() => hoursGiven({ ...given, called: fields }, photos))).toMatch(
    /^Out until: expected a time after that of Out from, /,
  );
});
