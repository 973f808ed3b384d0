import { z } from 'zod';
import { Problem } from '../base/problem.js';
import { short } from '../base/text.js';

/** The engine values that a dial may set. */
export const engineValues = ['threshold', 'minimumArea', 'mostChanged', 'persistence', 'cooldown'] as const;
export type EngineValue = (typeof engineValues)[number];

const sets = z.enum(engineValues).describe('the engine value that it sets');

/** A dial in the camera's own units: evenly stepped along a straight line, or a list of engine values. */
export const dialSchema = z.union([
  z
    .strictObject({
      sets,
      from: z.number().describe('the first position'),
      to: z.number().describe('the last position'),
      step: z.number().describe('from one position to the next'),
      gives: z
        .tuple([z.number(), z.number()])
        .describe(
          'engine values at the first and at the last position, on a straight line between: from 1 to 10 with [80, 8], position 1 sets 80 and 10 sets 8',
        ),
    })
    .describe('evenly stepped'),
  z
    .strictObject({ sets, choices: z.array(z.number()).min(1).describe('engine values') })
    .describe('a list of values to choose from'),
]);

export type Dial = z.output<typeof dialSchema>;
export type Controls = Record<string, Dial>;

const NEAR = 1e-9;
const MOST_POSITIONS = 100_000;
/** Of whatever unit, no dial goes farther from 0. */
const FARTHEST = 1e9;
/** Seconds: a day. */
const LONGEST_COOLDOWN = 86_400;
/** Frames; at any rate in use, longer than animals stay. */
const MOST_PERSISTENCE = 1_000_000;

/** Every position a dial has, from its first end to its last. */
export function positions(dial: Dial): number[] {
  if ('choices' in dial) return [...dial.choices];
  const steps = Math.floor((dial.to - dial.from) / dial.step + NEAR);
  return Array.from({ length: steps + 1 }, (_, i) => tidy(dial.from + i * dial.step));
}

/** The engine value at a position: the choice itself, or the point on the line between the two in `gives`. */
export function valueAt(dial: Dial, position: number): number {
  if ('choices' in dial) return position;
  const share = (position - dial.from) / (dial.to - dial.from);
  return tidy(dial.gives[0] + share * (dial.gives[1] - dial.gives[0]));
}

/** The position of a dial that gives an engine value, or undefined where none does. */
export function positionOf(dial: Dial, value: number): number | undefined {
  return positions(dial).find(
    (p) => Math.abs(valueAt(dial, p) - value) <= NEAR * Math.max(1, Math.abs(value)),
  );
}

/** The dial that sets an engine value, with its name. */
export function dialFor(controls: Controls, value: EngineValue): [name: string, dial: Dial] | undefined {
  return Object.entries(controls).find(([, dial]) => dial.sets === value);
}

/** Where each dial stands at its middle, the lower of two, by its name. */
export function middleOf(controls: Controls): Record<string, number> {
  const dials = Object.entries(controls).map(([name, dial]): [string, number] => {
    const all = positions(dial);
    return [name, all[(all.length - 1) >> 1]!];
  });
  return Object.fromEntries(dials);
}

/** A dial's reach in words, for messages. */
export function reach(dial: Dial): string {
  if ('choices' in dial) return `one of ${dial.choices.join(', ')}`;
  return `${dial.from} to ${dial.to} in steps of ${dial.step}`;
}

/** What makes sense of each engine value; `frame` is the number of pixels at the analysis size. */
export function senseless(value: EngineValue, x: number, frame: number): string | null {
  switch (value) {
    case 'threshold':
      return x > 0 && x <= 255 ? null : 'a number above 0 and up to 255 (grey levels)';
    case 'minimumArea':
    case 'mostChanged':
      return x >= 1 && x <= frame ? null : `a number from 1 to ${frame} (pixels of the whole frame)`;
    case 'persistence':
      return Number.isInteger(x) && x >= 1 && x <= MOST_PERSISTENCE
        ? null
        : `a whole number from 1 to ${MOST_PERSISTENCE} (frames)`;
    case 'cooldown':
      return x >= 0 && x <= LONGEST_COOLDOWN ? null : `a number from 0 to ${LONGEST_COOLDOWN} (seconds)`;
  }
}

/** Refuses dials whose map makes no sense: ends the wrong way round, no step, values that mean nothing, two dials for one value. */
export function checkDials(controls: Controls, frame: number, file: string): void {
  const setBy = new Map<EngineValue, string>();
  for (const [name, dial] of Object.entries(controls)) {
    const refuse = (path: string, expected: string, found: unknown) => {
      throw new Problem(
        'bad-field',
        `${file}: controls.${short(name)}${path}: expected ${expected}, found ${JSON.stringify(found)}`,
      );
    };
    const other = setBy.get(dial.sets);
    if (other !== undefined)
      refuse('.sets', `a value that no other dial sets ('${short(other)}' already sets it)`, dial.sets);
    setBy.set(dial.sets, name);
    if ('choices' in dial) {
      if (dial.choices.length > MOST_POSITIONS) {
        refuse('.choices', `at most ${MOST_POSITIONS} of them`, dial.choices.length);
      }
      const seen = new Set<number>();
      dial.choices.forEach((choice, i) => {
        const expected = senseless(dial.sets, choice, frame);
        if (expected) refuse(`.choices[${i}]`, expected, choice);
        if (seen.has(choice)) refuse(`.choices[${i}]`, 'each choice once', choice);
        seen.add(choice);
      });
      continue;
    }
    for (const end of ['from', 'to'] as const) {
      if (Math.abs(dial[end]) <= FARTHEST) continue;
      refuse(`.${end}`, `a number from ${-FARTHEST} to ${FARTHEST}`, dial[end]);
    }
    if (!(dial.to > dial.from)) refuse('.to', `a number above from (${dial.from})`, dial.to);
    if (!(dial.step > 0 && dial.step <= dial.to - dial.from + NEAR)) {
      refuse('.step', `a number above 0 and up to ${dial.to - dial.from}, the dial's whole way`, dial.step);
    }
    if ((dial.to - dial.from) / dial.step > MOST_POSITIONS) {
      refuse('.step', `a step that leaves at most ${MOST_POSITIONS} positions`, dial.step);
    }
    if (dial.gives[0] === dial.gives[1]) refuse('.gives', 'two different values', dial.gives);
    const all = positions(dial);
    if (new Set(all).size < all.length) {
      refuse('.step', `a step that leads to another number, from ${dial.from} on`, dial.step);
    }
    for (const position of all) {
      const value = valueAt(dial, position);
      const expected = senseless(dial.sets, value, frame);
      if (expected)
        refuse('.gives', `${expected} at every position; position ${position} gives ${value}`, dial.gives);
    }
  }
}

/** Takes off the last digits that adding steps in binary leaves behind (0.1 + 0.2). */
function tidy(x: number): number {
  return Number(x.toPrecision(12));
}
