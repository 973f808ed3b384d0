import { linkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { tune } from '../../src/jobs/tune.js';
import { Cache } from '../../src/store/cache.js';
import type { Answered } from '../../src/workbench/answer-protocol.js';
import type { StreamLine } from '../../src/workbench/protocol.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { scratch, served } from '../support/workbench.js';

const FRAMES = 6000;
/** Pictures that differ; the clip shows them again and again. */
const PICTURES = 100;
/** Evidence is kept in chunks of so many frames. */
const CHUNK = 512;

const walks = (k: number) => (k >= 20 && k < 30 ? { x: 3 * (k - 20), y: 20, size: 8, level: 150 } : null);

/** Twenty minutes of a visitor every twenty seconds. */
async function hedge(): Promise<string> {
  const folder = scratch();
  writeFileSync(join(folder, 'camera.json'), JSON.stringify(cameraSchema.parse(smallCamera)));
  const visits = Array.from({ length: FRAMES / PICTURES }, (_, i) => ({
    start: 4 + 20 * i,
    end: 6 + 20 * i,
  }));
  const clip = await writeClip(
    join(folder, 'hedge'),
    drawFrames(PICTURES, walks, 'stopping'),
    { version: 1, visits },
    { rate: 5, conditions: { wind: 1 } },
  );
  const name = (k: number) => join(clip, 'frames', `${k}.png`);
  for (let k = PICTURES; k < FRAMES; k++) linkSync(name(k % PICTURES), name(k));
  return folder;
}

/** What the server says to the question what to use, line by line. */
async function* asked(address: string, signal?: AbortSignal): AsyncGenerator<StreamLine<Answered>> {
  const body = { clips: ['hedge'], wanted: { worth: 10 }, now: null, recordedOnly: true };
  const answer = await fetch(`${address}api/tune`, {
    method: 'POST',
    body: JSON.stringify(body),
    ...(signal && { signal }),
  });
  let rest = '';
  for await (const piece of answer.body!.pipeThrough(new TextDecoderStream())) {
    const lines = (rest + piece).split('\n');
    rest = lines.pop()!;
    for (const line of lines) yield JSON.parse(line) as StreamLine<Answered>;
  }
}

/** How far the reading was each time that it was told, until `stop` says so. */
async function readings(
  lines: AsyncIterable<StreamLine<Answered>>,
  stop: (done: number) => boolean,
): Promise<{ reading: number[]; result: Answered | null }> {
  const reading: number[] = [];
  let isReading = false;
  for await (const line of lines) {
    if ('phase' in line) isReading = /hedge: reading frames/.test(line.phase);
    else if ('done' in line && isReading) {
      reading.push(line.done);
      if (stop(line.done)) break;
    } else if ('problem' in line) throw new Error(line.problem.message);
    else if ('result' in line) return { reading, result: line.result };
  }
  return { reading, result: null };
}

it('what to use, stopped half way, stops on the server, and goes on from there when it is asked again', async () => {
  const folder = await hedge();
  const address = await served(folder);
  const stop = new AbortController();
  const first = await readings(asked(address, stop.signal), (done) => done > CHUNK);
  stop.abort();
  const stoppedAt = first.reading.at(-1)!;
  expect(stoppedAt).toBeLessThan(FRAMES / 2);

  const second = await readings(asked(address), () => false);
  // Had the first gone on, all would be there; had nothing been kept, it would begin at the first frame.
  const from = second.reading[0]! - 1;
  expect(from % CHUNK).toBe(0);
  expect(from).toBeGreaterThanOrEqual(CHUNK);
  expect(from).toBeLessThan(FRAMES - CHUNK);
  expect(second.reading.at(-1)).toBe(FRAMES);

  const whole = await tune(
    {
      clips: [join(folder, 'hedge')],
      camera: join(folder, 'camera.json'),
      wanted: { worth: 10 },
      recordedOnly: true,
    },
    { cache: new Cache(scratch()) },
  );
  expect(second.result!.sites[0]!.recommended).toEqual(
    JSON.parse(JSON.stringify(whole.sites[0]!.recommended)),
  );
});
