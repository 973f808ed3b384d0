import type { Labels } from '../../../score/labels.js';

/** A step that can be undone, or done again, and those under it. */
interface Step {
  /** In words: 'a visit begun'. */
  what: string;
  /** What undoing or redoing it leads to. */
  labels: Labels;
  /** Steps of one go, such as letters typed into one field, are undone together. */
  joins: string | null;
  rest: Step | null;
}

/** What is said now, and the way there and back, without end. Nothing in it is ever changed in place. */
export interface History {
  now: Labels;
  past: Step | null;
  future: Step | null;
}

export function startedWith(labels: Labels): History {
  return { now: labels, past: null, future: null };
}

/** @param joins steps of the same `joins` in a row are one */
export function changed(history: History, what: string, now: Labels, joins: string | null = null): History {
  const { past } = history;
  if (joins !== null && past?.joins === joins) return { now, past: { ...past, what }, future: null };
  return { now, past: { what, labels: history.now, joins, rest: past }, future: null };
}

export function undone(history: History): History {
  const { now, past, future } = history;
  if (!past) return history;
  const { what, labels, rest } = past;
  return { now: labels, past: rest, future: { what, labels: now, joins: null, rest: future } };
}

export function redone(history: History): History {
  const { now, past, future } = history;
  if (!future) return history;
  const { what, labels, rest } = future;
  return { now: labels, past: { what, labels: now, joins: null, rest: past }, future: rest };
}

/**
 * The same steps on other ground: what came from outside is put under every one of them, so that undoing takes back what
 * was done here and nothing else.
 */
export function rebased({ now, past, future }: History, onto: (labels: Labels) => Labels): History {
  return { now: onto(now), past: each(past, onto), future: each(future, onto) };
}

/** Without recursion: a long day has more steps than a stack has room. */
function each(first: Step | null, onto: (labels: Labels) => Labels): Step | null {
  const steps: Step[] = [];
  for (let step = first; step; step = step.rest) steps.push(step);
  return steps.reduceRight<Step | null>((rest, step) => ({ ...step, labels: onto(step.labels), rest }), null);
}
