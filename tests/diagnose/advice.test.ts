import { expect, test } from 'vitest';
import { adviceFor } from '../../src/diagnose/advice.js';
import type { CauseName, ExplainedTrigger } from '../../src/diagnose/diagnosis.js';
import { causeNames } from '../../src/score/labels.js';

const times = (n: number, cause: CauseName): ExplainedTrigger[] =>
  Array.from({ length: n }, (_, time) => ({
    time,
    cause,
    probability: 0.9,
    evidence: '',
    box: [0, 0, 0.1, 0.1],
  }));
const advised = (...triggers: ExplainedTrigger[][]) => adviceFor(triggers.flat()).map(({ cause }) => cause);

test('a cause of a tenth of the triggers is worth advice, a rarer one is not', () => {
  expect(advised(times(18, 'wind'), times(2, 'rain'))).toEqual(['wind', 'rain']);
  expect(advised(times(19, 'wind'), times(2, 'rain'))).toEqual(['wind']);
});

test('three triggers are worth advice however small a share they are', () => {
  expect(advised(times(97, 'wind'), times(3, 'shake'))).toEqual(['wind', 'shake']);
});

test('every cause has something to do about it', () => {
  const advice = causeNames.flatMap((cause) => adviceFor(times(1, cause)));
  expect(advice.map(({ practice }) => practice.length > 0)).toEqual(causeNames.map(() => true));
});

test('advice to cut what sways warns of nests', () => {
  const [wind] = adviceFor(times(1, 'wind'));
  expect(wind?.care.join(' ')).toMatch(/nesting season/);
});

test('there is nothing to do at the camera about a visit that had just ended', () => {
  const trigger: ExplainedTrigger = {
    time: 1,
    cause: 'visit',
    probability: null,
    evidence: '',
    box: [0, 0, 1, 1],
  };
  expect(adviceFor([trigger, trigger, trigger])).toEqual([]);
});
