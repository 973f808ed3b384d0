import * as Plot from '@observablehq/plot';
import type { PlanResult, SitePlan } from '../../jobs/plan.js';
import { dayOf, dayText, hourOfDay, later, parseInstant } from '../../plan/instant.js';
import { plural } from '../../words/wording.js';
import { colour } from '../palette.js';
import { draw } from './draw.js';
import type { StripFormat } from './strip.js';

const WIDTH = { wide: 720, narrow: 344 } as const;
const LEFT = { wide: 76, narrow: 50 } as const;
const ROW = 50;
const AXIS = 18;
const HOUR = 3_600_000;
/** What the wind's bars reach up to, and the rain's reach down from; Beaufort number, mm/h. */
const [STRONGEST, WETTEST] = [10, 10];
/** Shares of a row that they take at most. */
const [WIND_SHARE, RAIN_SHARE] = [0.7, 0.3];

type Shade = 'bright' | 'dim' | 'too dark' | 'not known';
/** How dark each is drawn; what is not known is hatched. */
const opacity = { bright: 0, dim: 0.22, 'too dark': 0.62, 'not known': 0 } as const;

interface Cell {
  day: string;
  x1: number;
  x2: number;
  shade: Shade;
  wind: number;
  rain: number;
  title: string;
}

/**
 * The hours of a plan, a row for each day: how dark it is for the camera, wind as bars from below (from Beaufort 4 on in ink),
 * rain as bars from above, and a mark at each walk that is advised.
 */
export function week(plan: PlanResult, site: SitePlan, id: string, format: StripFormat): string {
  const cells = cellsOf(plan, site);
  const days = [...new Set(cells.map(({ day }) => day))];
  const width = WIDTH[format];
  const walks = site.week.worthIt
    ? site.week.changing.changes.map(({ at }) => {
        const instant = parseInstant(at, '');
        return { day: dayOf(instant), x: hourOfDay(instant) };
      })
    : [];
  const nameOf = (day: string) => {
    const text = dayText(parseInstant(`${day}T12:00:00Z`, ''));
    return format === 'wide' ? text : text.split(' ').slice(0, 2).join(' ');
  };
  const dark = cells.filter(({ shade }) => shade === 'too dark').length;
  const windy = cells.filter(({ wind }) => Math.round(wind) >= 4).length;
  const band = { x1: 'x1', x2: 'x2', fy: 'day' } as const;
  const pattern = `${id}-unknown`;
  return draw(
    {
      id,
      title: 'Hour by hour',
      description: `${plural(cells.length, 'hour')} on ${plural(days.length, 'day')}: ${plural(dark, 'hour')} too dark, ${windy} with wind from Beaufort 4; ${plural(walks.length, 'walk')}.`,
    },
    {
      width,
      height: days.length * ROW + AXIS + 4,
      marginLeft: LEFT[format],
      marginRight: 8,
      marginTop: 2,
      marginBottom: AXIS,
      x: {
        domain: [0, 24],
        ticks: [0, 6, 12, 18, 24],
        tickFormat: (hour: number) => `${String(hour).padStart(2, '0')}:00`,
        tickSize: 3,
        label: null,
      },
      y: { domain: [0, 1], axis: null },
      fy: { domain: days, axis: null, padding: 0.14 },
      marks: [
        Plot.rect(cells, { ...band, y1: 0, y2: 1, fill: colour('card') }),
        Plot.rect(cells, {
          ...band,
          y1: 0,
          y2: 1,
          fill: colour('ink'),
          fillOpacity: ({ shade }: Cell) => opacity[shade],
        }),
        Plot.rect(
          cells.filter(({ shade }) => shade === 'not known'),
          { ...band, y1: 0, y2: 1, fill: `url(#${pattern})` },
        ),
        Plot.rect(cells, {
          ...band,
          y1: 0,
          y2: ({ wind }: Cell) => WIND_SHARE * Math.min(1, wind / STRONGEST),
          fill: ({ wind }: Cell) => colour(Math.round(wind) >= 4 ? 'nothing' : 'area'),
          fillOpacity: ({ wind }: Cell) => (Math.round(wind) >= 4 ? 0.85 : 0.55),
          insetLeft: 0.5,
          insetRight: 0.5,
        }),
        Plot.rect(
          cells.filter(({ rain }) => rain > 0),
          {
            ...band,
            y1: ({ rain }: Cell) => 1 - RAIN_SHARE * Math.min(1, 0.25 + rain / WETTEST),
            y2: 1,
            fill: colour('caught'),
            insetLeft: 1.5,
            insetRight: 1.5,
          },
        ),
        Plot.rect(cells, { ...band, y1: 0, y2: 1, fill: 'transparent', title: 'title' }),
        Plot.ruleX(walks, { x: 'x', fy: 'day', stroke: colour('recommended'), strokeWidth: 2 }),
        Plot.dot(walks, {
          x: 'x',
          y: () => 0.86,
          fy: 'day',
          symbol: 'diamond',
          r: 6,
          fill: colour('card'),
          stroke: colour('recommended'),
          strokeWidth: 2.5,
        }),
        Plot.text(days, {
          fy: (day: string) => day,
          text: nameOf,
          frameAnchor: 'left',
          textAnchor: 'end',
          dx: -6,
          fill: colour('ink'),
        }),
      ],
    },
    `<defs><pattern id="${pattern}" width="6" height="6" patternUnits="userSpaceOnUse"><path d="M0 6L6 0" stroke="${colour('faint')}" stroke-width="1.2"/></pattern></defs>`,
  );
}

function cellsOf({ weather }: PlanResult, site: SitePlan): Cell[] {
  const begin = parseInstant(weather[0]!.at, '').ms;
  const stretchOf = weather.map(() => site.stretches[0]!);
  for (const stretch of site.stretches) {
    const from = Math.round((parseInstant(stretch.from, '').ms - begin) / HOUR);
    for (let hour = from; hour < from + stretch.hours; hour++) stretchOf[hour] = stretch;
  }
  return weather.flatMap(({ at, wind, rain }, hour) => {
    const { controls, conditions, source, weather: words } = stretchOf[hour]!;
    const shade: Shade =
      controls === null
        ? 'too dark'
        : source === null
          ? 'not known'
          : conditions.includes('low light')
            ? 'dim'
            : 'bright';
    const instant = parseInstant(at, '');
    const x1 = hourOfDay(instant);
    const title = `${dayText(instant)} ${at.slice(11, 16)}: ${words}; Beaufort ${wind}, ${rain} mm/h`;
    const of = { shade, wind, rain, title };
    const cell = { day: dayOf(instant), x1, x2: Math.min(24, x1 + 1), ...of };
    // An hour that goes over midnight is in two rows.
    const next = later(instant, HOUR);
    return x1 > 23 ? [cell, { day: dayOf(next), x1: 0, x2: x1 - 23, ...of }] : [cell];
  });
}
