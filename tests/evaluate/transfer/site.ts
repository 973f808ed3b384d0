import { createYard } from '../yards/yard.js';
import { compare, type Ratios, recallLost } from './compare.js';
import { drawnEvidence } from './drawn.js';
import { alwaysFiring, countsOf, type Evidence } from './evidence.js';
import { calmOf, days, rows } from './rows.js';
import { simulatedRows } from './simulated.js';
import { cameraOf } from './watching.js';

/**
 * Families named `judge...` are looked at once, after src/weather was changed; for building, PERCHMARK_FAMILY names
 * another.
 */
export const family = process.env.PERCHMARK_FAMILY ?? 'judge';
export const yards = Number(process.env.PERCHMARK_YARDS ?? 40);
const SECONDS = 90;

/** Every other owner outlines the plants. */
export const isOutlined = (site: number) => site % 2 === 0;

/** What came of one row at one site. */
export type Outcome = { name: string } & ({ ratios: Ratios; lost: number } | { refused: string });

/** Weather put onto the calm clip of one yard against the same weather drawn there; what was worked out before is kept. */
export async function judgeSite(site: number): Promise<Outcome[]> {
  const yard = createYard(`${family}-${site}`, { seconds: SECONDS });
  const camera = cameraOf(yard);
  const counts = (evidence: Evidence) => countsOf(yard, camera, evidence);
  const most = await counts(alwaysFiring(yard, camera));
  const simulated = await simulatedRows(yard, camera, rows, isOutlined(site));
  const outcomes: Outcome[] = [];
  for (const { name: dayName, change, anew } of days) {
    const day = { ...calmOf(yard), ...change };
    const drawn = await counts(await drawnEvidence(yard, day, camera));
    const against = async (name: string, evidence: Evidence) => {
      const other = await counts(evidence);
      outcomes.push({ name, ratios: compare(other, drawn, most), lost: recallLost(other, drawn) });
    };
    for (const { name } of rows.filter((row) => row.day === dayName)) {
      const one = simulated[name]!;
      if ('refused' in one) outcomes.push({ name, refused: `${yard.seed}: ${one.refused}` });
      else await against(name, one.evidence);
    }
    if (!anew) continue;
    await against(`${dayName}, drawn anew`, await drawnEvidence(yard, { ...day, again: 'another' }, camera));
  }
  return outcomes;
}

/** Works out every other site, for the two halves run side by side. */
export async function workOutHalf(half: 0 | 1): Promise<void> {
  for (let site = half; site < yards; site += 2) {
    const began = Date.now();
    await judgeSite(site);
    process.stderr.write(`yard ${site + 1} of ${yards}: ${((Date.now() - began) / 1000).toFixed(0)} s\n`);
  }
}
