import { significant } from '../base/figures.js';
import type { CamerasCompared, CameraTold } from '../jobs/tune/cameras-told.js';
import type { AgainstFirst, CameraVerdict } from '../tune/cameras.js';
import { points, signed } from './against-now.js';
import { clock, figure, plural } from './wording.js';

/** Visits that are named for each camera; --json has all. */
const MOST_NAMED = 3;
const HOURS_A_DAY = 24;

/** A table of cameras, the first that all others are held against on top: its heads, and what they mean. */
export const CAMERA_HEADS = ['', 'compares', 'caught', 'left out', 'photos', 'serves'] as const;
export const CAMERA_HEADS_MEAN =
  'caught: visits on these clips; left out: on footage that its settings were not chosen on, with photos of nothing a day there. serves: against the first, each by its own 90 % interval; as well: at worst by one visit in ten less; too little: to tell.';

const SERVES: Readonly<Record<CameraVerdict, string>> = {
  better: 'better',
  'as good': 'as well',
  worse: 'worse',
  'over the allowance': 'too many',
  'too little to tell': 'too little',
};

/** What a camera is called, the pictures that it compares, and what stands under the other heads. */
export type CameraRow = [camera: string, compares: string, ...cells: string[]];

/** One row for each camera. */
export function cameraRows(cameras: readonly CameraTold[]): CameraRow[] {
  const names = shortened(cameras.map(({ camera }) => camera));
  return cameras.map((told, c): CameraRow => {
    const nothing = told.leftOut?.nothingPerHour ?? null;
    return [
      names[c]!,
      `${told.width}x${told.height}, ${figure(told.rate)}/s`,
      ofVisits(onClips(told)),
      told.leftOut ? ofVisits(told.leftOut) : '-',
      nothing === null ? '-' : figure(HOURS_A_DAY * nothing),
      told.verdict ? SERVES[told.verdict] : c === 0 ? 'the first' : '-',
    ];
  });
}

/** Names without what all cameras are, where that leaves them apart: previous-frame camera is previous-frame. */
function shortened(names: readonly string[]): readonly string[] {
  const short = names.map((name) => name.replace(/(?<=\S)\s+camera$/, ''));
  return new Set(short).size === names.length ? short : names;
}

/** Which to use, how small is enough, and what that rests on; sentences. */
export function explainCameras({ cameras, whichCamera }: CamerasCompared): string[] {
  const [first, ...others] = cameras as [CameraTold, ...CameraTold[]];
  return [
    ...whichText(cameras, whichCamera),
    ...enoughText(cameras, whichCamera),
    ...powerText(cameras, whichCamera),
    ...others.flatMap((other) => againstText(other, first)),
  ];
}

function whichText(
  cameras: readonly CameraTold[],
  { best, verdict, chosenAnew }: CamerasCompared['whichCamera'],
): string[] {
  const first = cameras[0]!.camera;
  const promises = `${best} promises most on all of the footage`;
  const said = {
    keep: `On all of the footage none promises more than ${first} does.`,
    better: `${best} would serve better than ${first}.`,
    'as good': `${promises}, and is shown to be as good as ${first}, not better.`,
    worse: `${promises}, but did worse than ${first} on what was left out.`,
    'over the allowance': `${promises}, but takes more photos of nothing than are to be had.`,
    'too little to tell': `Too little to tell whether any serves better than ${first}; ${promises}.`,
  }[verdict];
  // What is worse was not to be gone by in the first place.
  const rather = verdict === 'worse' ? [] : ratherText(cameras, best);
  if (verdict === 'keep' || cameras.length === 2 || !chosenAnew) return [said, ...rather];
  const chosen = chosenAnew.times
    .filter(({ times }) => times > 0)
    .map(({ camera, times }) => `${camera} ${plural(times, 'time')}`)
    .join(', ');
  const ofFirst = cameras[0]!.leftOut;
  return [
    `${said} The best of ${cameras.length} is partly luck, so a camera was chosen anew without each piece of footage (${chosen}): on those pieces that caught ${ofVisits(chosenAnew)}${ofFirst ? `, ${first} ${ofFirst.caught}` : ''}.`,
    ...rather,
  ];
}

/** Where another camera caught more of what was left out than the one that promises most: what to go by, and what a promise is. */
function ratherText(cameras: readonly CameraTold[], best: string): string[] {
  const promising = cameras.find(({ camera }) => camera === best)?.leftOut;
  if (!promising) return [];
  const [most] = cameras
    .flatMap(({ camera, leftOut }) =>
      leftOut && leftOut.caught > promising.caught ? [{ camera, ...leftOut }] : [],
    )
    .sort((a, b) => b.caught - a.caught || (a.nothingPerHour ?? 0) - (b.nothingPerHour ?? 0));
  if (!most) return [];
  const more = `But on what was left out ${most.camera} caught more, ${ofVisits(most)}, ${best} ${promising.caught}`;
  const photos = most.nothingPerHour ?? 0;
  const before = promising.nothingPerHour ?? 0;
  const so =
    photos <= before
      ? `with no more photos of nothing: rather ${most.camera}, as far as that tells.`
      : `but with more photos of nothing, ${figure(HOURS_A_DAY * photos)} a day instead of ${figure(HOURS_A_DAY * before)}.`;
  return [
    `${more}, ${so}`,
    'A promise goes by how the settings chosen, and those around them, do on the footage that they were chosen on.',
  ];
}

function enoughText(cameras: readonly CameraTold[], { enough }: CamerasCompared['whichCamera']): string[] {
  const smaller = cameras.filter(({ work }) => work < 1);
  const first = cameras[0]!;
  const told = cameras.find(({ camera }) => camera === enough);
  if (!told?.leftOut || !first.leftOut) {
    return smaller.length === 0
      ? []
      : [`That fewer pixels than those of ${first.camera} are enough is not shown.`];
  }
  const recall = told.leftOut.against?.recall;
  return [
    `Small enough is ${told.camera}: ${told.width}x${told.height} at ${figure(told.rate)} a second, ${pixelsText(told)}. On footage left out it caught ${ofVisits(told.leftOut)}, ${first.camera} ${first.leftOut.caught}${recall ? `: of every 100 visits ${points(recall)}` : ''}. Tried on these clips only: an animal farther away is smaller.`,
  ];
}

function powerText(cameras: readonly CameraTold[], { samePower }: CamerasCompared['whichCamera']): string[] {
  if (samePower) {
    if (cameras.every(({ work }) => work === 1)) return [];
    return [
      'What comparing fewer pixels saves of the battery is not known, because all files give the same power: measure the current while each watches, and write it in as power.idle.',
    ];
  }
  const each = cameras.map(({ camera, sites }) => {
    const hours = sites.flatMap(({ battery }) => battery.hours?.value ?? []);
    return hours.length === 0 ? `${camera} unknown` : `${camera} ${figure(Math.min(...hours))} hours`;
  });
  const where = cameras[0]!.sites.length > 1 ? ' where it ends first' : '';
  return [
    `By power in their files, with the photos of the settings chosen, a battery lasts${where}: ${each.join(', ')}.`,
  ];
}

function againstText(other: CameraTold, first: CameraTold): string[] {
  const held = other.leftOut?.against;
  const onThese = other.sites.flatMap(({ against }) => against ?? []);
  const gained = onThese.flatMap((against) => against.gained);
  const lost = onThese.flatMap((against) => against.lost);
  const thinned = other.triesAll
    ? ''
    : ` Its reference depends on its triggers, so that ${other.searched} groups of its settings were tried and not all: there may be better ones.`;
  const left = held ? ` On footage left out, ${differencesText(held)}.` : '';
  return [
    `${other.camera} (${pixelsText(other)}) against ${first.camera}: on these clips ${gained.length + lost.length === 0 ? 'the same visits' : `${onlyText('it', gained)}, ${onlyText('the first', lost)}`}.${left}${thinned}`,
  ];
}

/** of every 100 visits 2 fewer (90 %: 9 fewer to 5 more); photos of nothing an hour +10 (-40 to 66) */
function differencesText({ recall, nothingPerHour }: AgainstFirst): string {
  return [
    ...(recall ? [`of every 100 visits ${points(recall)}`] : []),
    ...(nothingPerHour ? [`photos of nothing an hour ${signed(nothingPerHour)}`] : []),
  ].join('; ');
}

/** 2 visits only it catches (wren in calm at 0:12; robin in windy at 1:03) */
function onlyText(who: string, visits: AgainstFirst['gained']): string {
  if (visits.length === 0) return `none that only ${who} catches`;
  const named = visits
    .slice(0, MOST_NAMED)
    .map(({ clip, start, name }) => `${name ?? 'visit'} in ${clip} at ${clock(start)}`);
  const more = visits.length - named.length;
  return `${plural(visits.length, 'visit')} that only ${who} catches (${named.join('; ')}${more > 0 ? `; ${more} more in --json` : ''})`;
}

/** 38400 pixels compared a second, 10 % of the first's; or 10 times the first's */
function pixelsText({ pixelsPerSecond, work }: CameraTold): string {
  return `${significant(pixelsPerSecond, 6)} pixels compared a second, ${ofFirstText(work)}`;
}

function ofFirstText(work: number): string {
  if (work === 1) return 'as many as the first';
  return work > 1
    ? `${significant(work, 2)} times the first's`
    : `${significant(100 * work, 2)} % of the first's`;
}

function onClips({ sites }: CameraTold): { caught: number; visits: number } {
  const sum = (of: 'caught' | 'visits') => sites.reduce((n, { choice }) => n + choice.score[of], 0);
  return { caught: sum('caught'), visits: sum('visits') };
}

function ofVisits({ caught, visits }: { caught: number; visits: number }): string {
  return `${caught} of ${visits}`;
}
