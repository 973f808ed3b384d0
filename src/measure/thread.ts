// What a thread of threads.ts runs: it is built to a file of its own.
import { parentPort, workerData } from 'node:worker_threads';
import { ThreadMemory } from './thread-memory.js';
import type { Answer, Asked, Told } from './thread-talk.js';
import { WeatherMeter } from './weather-track.js';

const port = parentPort;
if (!port) throw new Error('this is no program of its own');
const { shape, tracks } = workerData as Told;
const memory = new ThreadMemory(shape);
const meters = tracks.map(({ track, place }) => ({ meter: new WeatherMeter(track), place }));
const say = (answer: Answer) => port.postMessage(answer);

port.on('message', (asked: Asked) => {
  if (asked === 'end') return say({ boxes: meters.map(({ meter }) => meter.boxes) });
  const { load, first, times } = asked;
  times.forEach((time, n) => {
    const y = memory.frame(load, n);
    for (const { meter, place } of meters) {
      const { changed, region } = meter.take(first + n, y, time);
      const row = memory.row(load, n, place);
      row.changed.set(changed);
      row.region.set(region);
    }
  });
  say('done');
});
say('ready');
