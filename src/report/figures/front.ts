import * as Plot from '@observablehq/plot';
import type { SiteResult } from '../../jobs/tune.js';
import { chosenName } from '../../words/choices.js';
import { figure } from '../../words/wording.js';
import { colour } from '../palette.js';
import { draw, FONT } from './draw.js';

const WIDTH = 360;
const HEIGHT = 290;
const [LEFT, RIGHT, TOP, BOTTOM] = [42, 14, 26, 40];
const [PLOT_WIDTH, PLOT_HEIGHT] = [WIDTH - LEFT - RIGHT, HEIGHT - TOP - BOTTOM];
const TICKS = [0, 1, 3, 10, 30, 100, 300, 1000, 3000, 10_000, 30_000];

interface Point {
  recall: number;
  falsePerHour: number;
}

/**
 * What each share of visits costs in false triggers: the front, with what is recommended and what is best on these clips. Where
 * there is too little to recommend anything, the first of the sensible choices stands instead, by its name.
 */
export function frontFigure(
  {
    front,
    recommended,
    best,
    allowance,
    tells,
  }: Pick<SiteResult, 'front' | 'recommended' | 'best' | 'allowance' | 'tells'>,
  id: string,
): string {
  const points = front.flatMap(({ recall, falsePerHour }) =>
    recall === null || falsePerHour === null ? [] : [{ recall, falsePerHour }],
  );
  const name = chosenName({ tells });
  const chosen = pointOf(recommended);
  const finest = pointOf(best);
  const same =
    chosen !== null &&
    finest !== null &&
    chosen.recall === finest.recall &&
    chosen.falsePerHour === finest.falsePerHour;
  const all = [...points, ...(chosen ? [chosen] : []), ...(finest ? [finest] : [])];
  const allowed = allowance ? [allowance.falsePerHour] : [];
  const most = 1.15 * all.reduce((a, p) => Math.max(a, p.falsePerHour), Math.max(1, ...allowed));
  const places = namePlaces(chosen, same ? null : finest, most);
  const described = [
    chosen && `${name.charAt(0).toUpperCase()}${name.slice(1)}: ${inWords(chosen)}.`,
    finest && `Best on these clips: ${inWords(finest)}.`,
  ];
  return draw(
    {
      id,
      title: 'Visits caught against false triggers',
      description:
        described.filter(Boolean).join(' ') || 'Nothing can be told: no visits or no watched time.',
    },
    {
      width: WIDTH,
      height: HEIGHT,
      marginLeft: LEFT,
      marginRight: RIGHT,
      marginTop: TOP,
      marginBottom: BOTTOM,
      x: {
        type: 'symlog',
        domain: [0, most],
        ticks: TICKS.filter((tick) => tick <= most),
        tickFormat: (x: number) => (x >= 1000 ? `${x / 1000}k` : String(x)),
        label: 'false triggers an hour →',
        labelAnchor: 'center',
        labelArrow: 'none',
      },
      y: {
        domain: [0, 1],
        ticks: 5,
        tickFormat: (y: number) => `${Math.round(y * 100)} %`,
        label: '↑ visits caught',
        labelArrow: 'none',
        grid: true,
      },
      style: { fontSize: `${FONT}px` },
      marks: [
        Plot.ruleX(allowed, { stroke: colour('faint'), strokeDasharray: '4 3' }),
        Plot.text(allowed, {
          x: (x: number) => x,
          text: (x: number) => `allowed: ${figure(x)}`,
          frameAnchor: 'bottom',
          textAnchor: leans(allowed[0] ?? 0, most),
          dx: leans(allowed[0] ?? 0, most) === 'start' ? 4 : -4,
          dy: -6,
          fill: colour('faint'),
        }),
        Plot.line(
          [...points].sort((a, b) => a.falsePerHour - b.falsePerHour),
          { x: 'falsePerHour', y: 'recall', curve: 'step-after', stroke: colour('area'), strokeWidth: 1.5 },
        ),
        Plot.dot(points, { x: 'falsePerHour', y: 'recall', r: 2.5, fill: colour('area'), title: inWords }),
        ...(finest && !same ? marked(finest, 'best here', 'diamond', 'best', most, places.finest) : []),
        ...(chosen
          ? marked(chosen, same ? `${name}, best here` : name, 'star', 'recommended', most, places.chosen)
          : []),
      ],
    },
  );
}

function pointOf(choice: SiteResult['best']): Point | null {
  const { recall, falsePerHour } = choice.score;
  return recall && falsePerHour ? { recall: recall.value, falsePerHour: falsePerHour.value } : null;
}

/** Pixels from a point down to the middle of its name, above and below it. */
const [ABOVE, BELOW] = [-12, 14];
/** From one line of names to the next. */
const LINE = 16;
/** Two points nearer to one another than this, across and down, would have their names run into one another. */
const [NEAR_ACROSS, NEAR_DOWN] = [150, 34];

/** Where the names of the two points lie, so that neither lies on the other or on the other point. */
function namePlaces(chosen: Point | null, finest: Point | null, most: number) {
  const alone = (point: Point | null, isBelow: boolean) =>
    point && (point.recall > 0.9 || (isBelow && point.recall > 0.12)) ? BELOW : ABOVE;
  const apart = { chosen: alone(chosen, true), finest: alone(finest, false) };
  if (!chosen || !finest) return apart;
  const across =
    (PLOT_WIDTH * Math.abs(Math.log1p(chosen.falsePerHour) - Math.log1p(finest.falsePerHour))) /
    Math.log1p(most);
  const down = PLOT_HEIGHT * (chosen.recall - finest.recall);
  if (across > NEAR_ACROSS || Math.abs(down) > NEAR_DOWN) return apart;
  // The upper one's name above it and the lower one's below; at the top or bottom edge one beyond the other.
  const [high, low] = down > 0 ? [chosen.recall, finest.recall] : [finest.recall, chosen.recall];
  const gap = Math.abs(down);
  const [upper, lower] =
    high > 0.95 ? [BELOW + LINE + gap, BELOW] : low < 0.12 ? [ABOVE, ABOVE - LINE - gap] : [ABOVE, BELOW];
  return down > 0 ? { chosen: upper, finest: lower } : { chosen: lower, finest: upper };
}

/** A point that stands out by shape and name; the name lies so far down from it, on the side where there is room. */
function marked(
  point: Point,
  name: string,
  symbol: 'star' | 'diamond',
  role: 'recommended' | 'best',
  most: number,
  dy: number,
): Plot.Markish[] {
  const textAnchor = leans(point.falsePerHour, most);
  return [
    Plot.dot([point], {
      x: 'falsePerHour',
      y: 'recall',
      symbol,
      r: symbol === 'star' ? 8 : 6,
      fill: symbol === 'star' ? colour(role) : colour('card'),
      stroke: symbol === 'star' ? colour('ink') : colour(role),
      strokeWidth: symbol === 'star' ? 1 : 2.5,
      title: inWords,
    }),
    Plot.text([point], {
      x: 'falsePerHour',
      y: 'recall',
      text: () => name,
      textAnchor,
      dx: textAnchor === 'start' ? 9 : -9,
      dy,
      fontWeight: 'bold',
      stroke: colour('card'),
      strokeWidth: 4,
      fill: colour('ink'),
    }),
  ];
}

/** To which side of a place text has more room. */
function leans(x: number, most: number): 'start' | 'end' {
  return Math.log1p(x) > 0.55 * Math.log1p(most) ? 'end' : 'start';
}

function inWords({ recall, falsePerHour }: Point): string {
  return `${Math.round(100 * recall)} % of visits caught, ${figure(falsePerHour)} false triggers an hour`;
}
