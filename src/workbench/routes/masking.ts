import { Hono } from 'hono';
import type { Camera } from '../../camera/description.js';
import { keepsEvidence } from '../../camera/keeps-evidence.js';
import type { Clip } from '../../clip/open.js';
import { PlaceCounter } from '../../diagnose/triggers/places.js';
import { changedRegion, largestRegion } from '../../engine/region.js';
import { levelOf } from '../../engine/triggers.js';
import type { OpenPorts } from '../../jobs/ports.js';
import { type ClipReplayed, replay } from '../../jobs/replay.js';
import { analysedFrames } from '../../measure/analysed.js';
import { differencesAt } from '../../measure/difference-at.js';
import { keyOf } from '../../store/key.js';
import type { Bench } from '../bench.js';
import { askedIn, type Case, caseOf } from '../clip-asked.js';
import type { MaskEffect, MaskingTold } from '../diagnosis-protocol.js';
import { KeptAnswers } from '../kept-answers.js';
import { streamed } from '../streamed.js';

const MOST_KEPT = 32;
/** Triggers that are looked at for the map, spread over all of them. */
const MOST_LOOKED = 500;

/** What the mask in the labels does to a clip under the dials as they stand. */
export function maskingRoutes({ workspace, ports, turns }: Bench): Hono {
  const bare = new KeptAnswers<Omit<MaskingTold, 'withIt'>>(MOST_KEPT);
  return new Hono().post('/clips/:id/masking', async (c) => {
    const id = c.req.param('id');
    const asked = await askedIn(c);
    return streamed<MaskingTold>(ports.cache, async (told) => {
      const one = await caseOf(workspace, id, asked, told);
      return turns.take('trying the mask', told, async () => {
        const unmasked = await bare.of(bareKey(one), () => withoutMask(one, told));
        return { ...unmasked, withIt: effectOf(await replayed(one, one.clip.labels?.mask ?? [], told)) };
      });
    });
  });
}

function bareKey({ clip, camera, settings }: Case): string {
  const { causes: _, foliage: __, mask: ___, ...labels } = clip.labels ?? { visits: [] };
  return keyOf(clip.contentKey, clip.times, clip.seconds, camera, settings, labels);
}

async function withoutMask(one: Case, ports: OpenPorts): Promise<Omit<MaskingTold, 'withIt'>> {
  const judged = await replayed(one, [], ports);
  return { without: effectOf(judged), where: await whereOf(one, judged, ports) };
}

async function replayed(
  { clip, camera, settings }: Case,
  mask: [number, number][][],
  ports: OpenPorts,
): Promise<ClipReplayed> {
  const { clips } = await replay({ clips: [clip], camera, settings: { ...settings, mask } }, ports);
  return clips[0]!;
}

function effectOf({ score, visits }: ClipReplayed): MaskEffect {
  return { score, visits };
}

/** Cells of what fired falsely, from the very frames that fired; empty where the reference depends on the triggers. */
async function whereOf(
  { clip, camera, settings }: Case,
  judged: ClipReplayed,
  ports: OpenPorts,
): Promise<MaskingTold['where']> {
  const counter = new PlaceCounter({ clip, judged });
  if (keepsEvidence(camera)) {
    ports.onPhase('looking where it fired falsely');
    const { width, height } = camera.analysis;
    const find = camera.area === 'changed' ? changedRegion : largestRegion;
    const places = placesOf(clip, camera, judged);
    let done = 0;
    for await (const { difference } of differencesAt(clip, camera, places, null, ports.signal)) {
      counter.addExplained(find(difference, width, height, levelOf(settings.threshold)));
      ports.onProgress(++done, places.length);
    }
  }
  const { columns, rows, explained } = counter.places;
  return { columns, rows, counts: explained };
}

/** The analysed frames of its false triggers, thinned evenly where there are many. */
function placesOf(clip: Clip, camera: Camera, { triggers }: ClipReplayed): number[] {
  const { times } = analysedFrames(clip, camera);
  const place = new Map(Array.from(times, (time, k) => [time, k]));
  const all = triggers.flatMap(({ time, verdict }) =>
    verdict === 'false' ? [place.get(time) as number] : [],
  );
  const n = Math.min(all.length, MOST_LOOKED);
  return Array.from({ length: n }, (_, i) => all[Math.floor((i * all.length) / n)]!);
}
