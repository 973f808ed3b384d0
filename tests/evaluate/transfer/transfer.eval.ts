import { expect, it } from 'vitest';
import { Tally } from '../tally.js';
import { family, isOutlined, judgeSite, yards } from './site.js';
import { spreadOf } from './spread.js';

/** The aims, for wind measured at the site. */
const MEDIAN_WITHIN = 1.5;
const QUARTERS_WITHIN = 3;

interface Result {
  ratios: { site: number; ratios: number[] }[];
  given: number[];
  saturated: number;
  quiet: number;
  refused: string[];
  lost: Tally;
}

/** Weather put onto the calm clip of yards against the same weather drawn there by other rules (../yards). */
it('weather simulated on a calm clip against the same weather drawn by other rules', async () => {
  const results = new Map<string, Result>();
  for (let site = 0; site < yards; site++) {
    for (const outcome of await judgeSite(site)) {
      const { name } = outcome;
      const result: Result = results.get(name) ?? {
        ratios: [],
        given: [],
        saturated: 0,
        quiet: 0,
        refused: [],
        lost: new Tally(),
      };
      results.set(name, result);
      if ('refused' in outcome) {
        result.refused.push(outcome.refused);
        continue;
      }
      const { ratios, given, saturated, quiet } = outcome.ratios;
      result.given.push(...given);
      result.ratios.push({ site, ratios });
      result.saturated += saturated;
      result.quiet += quiet;
      result.lost.add(site, outcome.lost);
    }
  }
  say(results);
  sayHowFarOff(results);
  const measured = [...results]
    .filter(([name]) => name.endsWith('at the site'))
    .flatMap(([, result]) => result.ratios.flatMap(({ ratios }) => ratios));
  // Where other weather alone was asked for, the aims say nothing.
  if (measured.length === 0) return;
  const { median, within } = spreadOf(measured);
  expect.soft(Math.max(median, 1 / median), 'median, sway measured').toBeLessThan(MEDIAN_WITHIN);
  expect.soft(within(QUARTERS_WITHIN), 'settings within 3, sway measured').toBeGreaterThan(0.75);
});

function say(results: Map<string, Result>): void {
  console.log(
    `\nfamily ${family}, ${yards} yards\n\n| weather | false triggers simulated / drawn: median (quartiles) | within 1.5 | 2 | 3 | settings (saturated, quiet) | refused | recall lost |`,
  );
  console.log('|---|---|---|---|---|---|---|---|');
  const percent = (share: number) => `${(100 * share).toFixed(0)} %`;
  const line = (name: string, ratios: number[], rest: string) => {
    const { low, median, high, within, settings } = spreadOf(ratios);
    const text = settings === 0 ? '-' : `${median.toFixed(2)} (${low.toFixed(2)} to ${high.toFixed(2)})`;
    console.log(
      `| ${name} | ${text} | ${[1.5, 2, 3].map((f) => percent(within(f))).join(' | ')} | ${settings} ${rest}`,
    );
  };
  for (const [name, { ratios, saturated, quiet, refused, lost }] of results) {
    const all = ratios.flatMap((r) => r.ratios);
    line(
      name,
      all,
      `(${saturated}, ${quiet}) | ${refused.length} | ${lost.cases > 0 ? lost.text(2) : '-'} |`,
    );
  }
  const winds = [...results].filter(([name]) => name.startsWith('wind'));
  for (const how of new Set(winds.map(([name]) => name.split(', ')[1]!))) {
    const of = winds.filter(([name]) => name.endsWith(how)).flatMap(([, r]) => r.ratios);
    line(
      `all winds, ${how}`,
      of.flatMap((r) => r.ratios),
      '| | |',
    );
    for (const outlined of [true, false]) {
      const some = of.filter((r) => isOutlined(r.site) === outlined);
      line(
        `- foliage ${outlined ? 'outlined' : 'found'}`,
        some.flatMap((r) => r.ratios),
        '| | |',
      );
    }
  }
  for (const [name, { refused }] of results) {
    for (const why of refused) console.log(`refused: ${name}: ${why}`);
  }
}

/** Between what the drawn lies, given what was simulated: what src/weather/off.ts tells. */
function sayHowFarOff(results: Map<string, Result>): void {
  console.log('\n| weather | settings | drawn / simulated: a tenth below | the middle | a tenth above |');
  console.log('|---|---|---|---|---|');
  for (const [name, { given }] of results) {
    const { settings, at } = spreadOf(given);
    const [low, middle, high] = [0.1, 0.5, 0.9].map((share) => at(share).toFixed(2));
    console.log(`| ${name} | ${settings} | ${low} | ${middle} | ${high} |`);
  }
}
