import type { Assumption } from './assumptions/assumption.js';
import { lightAssumptions } from './assumptions/light.js';
import { placeAssumptions } from './assumptions/place.js';
import { rainAssumptions } from './assumptions/rain.js';
import { windAssumptions } from './assumptions/wind.js';

export type { Assumption } from './assumptions/assumption.js';

/** Figures that simulated weather assumes, by name; each is doubted by itself. Constants of its models are not among them. */
const assumptions = { ...windAssumptions, ...rainAssumptions, ...placeAssumptions, ...lightAssumptions };

export type AssumptionName = keyof typeof assumptions;

/** In the order in which they are told. */
export const assumptionNames = Object.keys(assumptions) as AssumptionName[];

/** Whether an assumption makes a kind of weather. */
export function makes(name: AssumptionName, weather: string): boolean {
  const { weather: first, also } = assumptionOf(name);
  return first === weather || also === weather;
}

/** One assumption taken for so many times what it is. */
export interface Doubt {
  assumption: AssumptionName;
  times: number;
}

/** What to make weather with, as far as it is doubted. */
interface Doubted {
  doubt?: Doubt | undefined;
}

export function assumptionOf(name: AssumptionName): Assumption {
  return assumptions[name];
}

/** What a figure by this name is to be multiplied by: 1 unless it is the one that is doubted. */
export function times({ doubt }: Doubted, name: AssumptionName): number {
  return doubt?.assumption === name ? doubt.times : 1;
}

/** What a doubted figure is multiplied by in the end: it goes no further than it can. */
export function timesTaken(doubt: Doubt): number {
  return figureOf({ doubt }, doubt.assumption) / assumptionOf(doubt.assumption).figure;
}

/** The figure of an assumption, doubted or not, as far as it can go. */
export function figureOf(setup: Doubted, name: AssumptionName): number {
  const { figure, most = Number.POSITIVE_INFINITY } = assumptionOf(name);
  return Math.min(most, figure * times(setup, name));
}
