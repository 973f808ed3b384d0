import { photosIn } from '../clip/photo-folder.js';
import { hoursIn } from '../outing/evening/hours-out.js';
import { type Seen, timedIn } from '../outing/evening/photo.js';
import { tallyOf } from '../outing/evening/tally.js';
import { offsetOf } from './evening/clock.js';
import { heldAgainst } from './evening/held.js';
import { BY_OPTIONS, hoursGiven } from './evening/hours.js';
import { readMarks } from './evening/marks.js';
import { readPromised } from './evening/promised.js';
import type { EveningInput, EveningResult } from './evening/result.js';
import { toldOf } from './evening/told.js';
import { assumptions, notesOn } from './evening/words.js';
import { openCamera } from './open.js';
import { openPorts, type Ports } from './ports.js';

export { eveningDocument } from './evening/document.js';
export { marksCsv } from './evening/marks.js';
export type {
  ConditionTold,
  EveningInput,
  EveningResult,
  EveningWritten,
  PromiseTold,
  SeenPhoto,
  Withheld,
} from './evening/result.js';

/**
 * The evening's real photos: how many show animals, nothing and people, by hour and by weather, and whether photos of nothing
 * came as often as was promised. The photos are read and never changed.
 * @throws Problem for anything wrong with what was given; the signal's reason when aborted
 */
export async function evening(input: EveningInput, ports: Ports = {}): Promise<EveningResult> {
  const { folder, marks: file, called = BY_OPTIONS } = input;
  const { onPhase, onProgress, onWarning, signal } = await openPorts(ports);
  const camera = input.camera === undefined ? null : await openCamera(input.camera);
  const clock = input.clock === undefined ? null : offsetOf(called.clock, input.clock);
  const read = input.promised ? await readPromised(input.promised.file, input.promised.site) : null;
  onPhase(`${folder}: looking for photos`);
  const { photos, leftOut, wentBack } = await photosIn(folder, { onProgress, signal });
  for (const line of leftOut) onWarning(line);
  const marks = file === undefined ? new Map<string, Seen>() : await readMarks(file, photos, onWarning);
  const all = photos.map((photo) => ({ ...photo, seen: marks.get(photo.name) ?? null }));
  const timed = timedIn(all);
  const outing = hoursGiven({ ...input, called }, timed);
  const out = outing?.out ?? null;
  const within = outing ? [...outing.photos, ...all.filter(({ time }) => time === null)] : all;
  const promised =
    read &&
    heldAgainst(
      read,
      camera,
      clock,
      (outing?.photos ?? timed).map(({ time }) => time),
    );
  const withoutTime = all.length - timed.length;
  return {
    folder,
    all,
    ...tallyOf(within),
    withoutTime,
    outside: all.length - within.length,
    out: out && { ...out, hours: hoursIn(out) },
    ...toldOf(outing, within, promised),
    assumed: assumptions(outing, promised, camera),
    notes: notesOn(wentBack, withoutTime, all.length, out, promised, camera),
  };
}
