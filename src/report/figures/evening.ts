import * as Plot from '@observablehq/plot';
import type { PartTold } from '../../outing/evening/parts.js';
import { HOUR } from '../../outing/evening/photo.js';
import { hourText, partText, perHourText } from '../../words/evening-wording.js';
import { figureBetween } from '../../words/wording.js';
import { colour } from '../palette.js';
import { draw, FONT } from './draw.js';

const HEIGHT = 250;
const [LEFT, RIGHT, TOP, BOTTOM] = [40, 22, 26, 34];
/** Pixels that a label of an hour takes. */
const LABEL = 46;
const MOST_SHOWN = 1.15;

type Shown = PartTold & { rate: NonNullable<PartTold['nothingPerHour']> };

/**
 * Photos of nothing an hour over the hours out: a bar and its 90 % interval by bouts for each hour or stretch, and what was
 * promised for it as a band behind.
 * @param width pixels; narrow for phones
 */
export function eveningFigure(parts: readonly PartTold[], width: number, id: string): string {
  const shown = parts.flatMap((part): Shown[] =>
    part.nothingPerHour ? [{ ...part, rate: { ...part.nothingPerHour, ...part.nothingPerHour.bouts } }] : [],
  );
  const promised = parts.flatMap(({ from, until, promised: range }) =>
    range ? [{ from, until, ...range }] : [],
  );
  // A promise that goes far beyond what came would press all else flat.
  const came = Math.max(1, ...shown.map(({ rate }) => rate.high));
  const most = MOST_SHOWN * Math.max(came, ...promised.map(({ value }) => value));
  const ends = [Math.min(...parts.map(({ from }) => from)), Math.max(...parts.map(({ until }) => until))];
  const words = parts.map((part) => {
    const said = part.promised ? `, promised ${figureBetween(part.promised)}` : '';
    return `${partText(part)}: ${perHourText(part.nothingPerHour)}${said}`;
  });
  const middle = ({ from, until }: PartTold) => (from + until) / 2;
  return draw(
    {
      id,
      title: 'Photos of nothing an hour, over the hours out',
      description: `${words.join('; ')}. Intervals of 90 %, by bunches of photos.`,
    },
    {
      width,
      height: HEIGHT,
      marginLeft: LEFT,
      marginRight: RIGHT,
      marginTop: TOP,
      marginBottom: BOTTOM,
      style: { fontSize: `${FONT}px` },
      x: {
        type: 'linear',
        domain: ends,
        ticks: hourTicks(ends[0]!, ends[1]!, (width - LEFT - RIGHT) / LABEL),
        tickFormat: (time: number) => hourText(time),
        label: null,
      },
      y: { domain: [0, most], grid: true, label: null, ticks: 5 },
      marks: [
        Plot.rect(shown, {
          x1: 'from',
          x2: 'until',
          y1: 0,
          y2: ({ rate }: Shown) => rate.value,
          insetLeft: 2,
          insetRight: 2,
          fill: colour('nothing'),
          fillOpacity: 0.55,
          stroke: colour('nothing'),
        }),
        Plot.rect(promised, {
          x1: 'from',
          x2: 'until',
          y1: 'low',
          y2: ({ high }: { high: number }) => Math.min(high, most),
          fill: colour('recommended'),
          fillOpacity: 0.2,
        }),
        ...promised.map(({ from, until, value }) =>
          Plot.ruleY([value], {
            x1: from,
            x2: until,
            stroke: colour('recommended'),
            strokeWidth: 2.5,
            strokeDasharray: '6 3',
          }),
        ),
        Plot.ruleX(shown, {
          x: middle,
          y1: ({ rate }: Shown) => rate.low,
          y2: ({ rate }: Shown) => rate.high,
          stroke: colour('ink'),
          strokeWidth: 2,
        }),
        Plot.ruleY([0], { stroke: colour('ink') }),
        Plot.text(['photos of nothing an hour'], {
          frameAnchor: 'top-left',
          dx: -LEFT + 4,
          dy: -TOP + 4,
          fill: colour('faint'),
        }),
      ],
    },
  );
}

/** Whole hours, no more than there is room for. */
function hourTicks(from: number, until: number, room: number): number[] {
  const hours = (until - from) / HOUR;
  const step = [1, 2, 3, 4, 6, 12, 24, 48, 168].find((one) => hours / one <= room) ?? 744;
  const first = Math.ceil(from / HOUR / step) * step;
  const ticks: number[] = [];
  for (let hour = first; hour * HOUR <= until; hour += step) ticks.push(hour * HOUR);
  return ticks;
}
