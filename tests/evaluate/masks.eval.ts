import { expect, it } from 'vitest';
import { USUAL_WORTH } from '../../src/jobs/tune.js';
import { type Goal, worthOf } from '../../src/tune/goal.js';
import { sitesToTry } from './masks/sites.js';
import { type Counted, type Tried, tryMasks } from './masks/try.js';

/**
 * What masks beside the dials are worth on footage that nothing was chosen on. Scenes and what came of each site are kept, so
 * that it goes on where it was stopped. PERCHMARK_SITES: of the sites only those whose names begin so.
 */
const allowance = { kind: 'allowance', falsePerHour: 30 } as const;
const worth = { kind: 'worth', photos: USUAL_WORTH, photosPerTrigger: 2 } as const;
const goals: Goal[] = [allowance, worth];
const wanted = process.env.PERCHMARK_SITES ?? '';

it('tries masks with the dials, site by site', async () => {
  const rows: { name: string; tried: Tried[] }[] = [];
  const sites = (await sitesToTry()).filter(({ name }) => name.startsWith(wanted));
  for (const [i, site] of sites.entries()) {
    const began = Date.now();
    rows.push({ name: site.name, tried: await tryMasks(site, goals) });
    const seconds = (Date.now() - began) / 1000;
    const left = ((sites.length - 1 - i) * seconds) / 60;
    process.stderr.write(
      `${site.name}: ${seconds.toFixed(0)} s; at that pace ${left.toFixed(0)} min more for what is left\n`,
    );
  }
  table(
    `At ${allowance.falsePerHour} false triggers an hour, visits caught, with those by luck (false triggers an hour)`,
  );
  for (const { name, tried } of rows) {
    const { visits, hours } = tried[0]!.judged;
    const of = ({ caught, byLuck, falseTriggers }: Counted) =>
      `${caught - byLuck}, ${caught} of ${visits} (${(falseTriggers / hours).toFixed(0)})`;
    console.log(row(name, tried[0]!, of));
  }
  table('By worth, in photos, with visits by luck (visits, with those by luck, false triggers)');
  for (const { name, tried } of rows) {
    const { visits } = tried[1]!.judged;
    const of = ({ caught, byLuck, falseTriggers }: Counted) =>
      `${worthOf(caught - byLuck, falseTriggers, worth)}, ${worthOf(caught, falseTriggers, worth)} (${caught - byLuck}, ${caught} of ${visits}, ${falseTriggers})`;
    console.log(row(name, tried[1]!, of));
  }
  expect(rows.length).toBeGreaterThan(0);
});

function table(heading: string): void {
  console.log(`\n${heading}; in brackets: not recommended\n`);
  console.log('| | left out, without → with | recommended | judged, without | judged, with |');
  console.log('|---|---|---|---|---|');
}

function row(name: string, { leftOut, isProved, judged }: Tried, of: (counted: Counted) => string): string {
  const left = ({ caught, falseTriggers }: Counted) => `${caught} (${falseTriggers} false)`;
  const masked = judged.masked === null ? '' : isProved ? of(judged.masked) : `[${of(judged.masked)}]`;
  return `| ${[name, `${left(leftOut.bare)} → ${left(leftOut.masked)}`, isProved ? 'yes' : 'no', of(judged.bare), masked].join(' | ')} |`;
}
