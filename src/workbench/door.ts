import { realpath, stat } from 'node:fs/promises';
import { z } from 'zod';
import { parseJson } from '../base/json.js';
import { Problem } from '../base/problem.js';
import { codeOf } from '../files/faults.js';
import type { Cache } from '../store/cache.js';
import { jsonKey } from '../store/key.js';
import { readSealed, writeSealed } from '../store/sealed.js';
import type { Bench } from './bench.js';
import { newSecret } from './guard.js';
import { type Serving, serveWorkbench } from './serve.js';

/** A secret that nobody used for so long is not used again; the port is. */
const SECRET_HOURS = 24;
const HOUR_MS = 3_600_000;
/** Nobody else may read it. */
const OWN = 0o600;

const keptSchema = z.strictObject({
  port: z.int().min(1).max(65_535),
  secret: z.string().regex(/^[\w-]{32}$/),
  /** When a program last served by it, milliseconds since 1970. */
  used: z.number(),
});
type Kept = z.output<typeof keptSchema>;

/**
 * Serves the workbench by the folder's own door, or by another where that is not to be had, and keeps it for the next run: a
 * page that stayed open while the program was started again goes on, and what a browser kept for it, which belongs to the
 * port, is found again.
 * @param wanted the port that was asked for; undefined: the one of last time, else any that is free
 * @throws Problem where the port that was asked for is taken
 */
export async function serveByKeptDoor(
  bench: Omit<Bench, 'turns'>,
  wanted: number | undefined,
  now: () => number = Date.now,
): Promise<Serving> {
  const { cache, onWarning } = bench.ports;
  const entry = ['doors', jsonKey(await realpath(bench.workspace.root))];
  const found = await read(cache, entry);
  if (found.useless !== null) {
    onWarning(
      `the address at which this folder was open before is not used again, because ${found.useless} (${cache.path(...entry)}); pages that are still open do not go on by themselves`,
    );
  }
  const { kept } = found;
  const isFresh = kept !== null && now() - kept.used < SECRET_HOURS * HOUR_MS;
  const port = wanted ?? kept?.port ?? 0;
  // A secret goes with its port: whoever has that now may have been told it by a page that is still open.
  const secret = isFresh && kept.port === port ? kept.secret : newSecret();
  const serving = await serveWorkbench(bench, { port, secret }).catch((error) => {
    if (codeOf(error) !== 'EADDRINUSE') throw error;
    if (wanted !== undefined) {
      throw new Problem(
        'usage',
        `--port ${wanted}: another program listens there; leave --port out, or choose another`,
      );
    }
    onWarning(
      `port ${port}, at which this folder was open before, is taken by another program or by this one, running already; it is open at another port now, to which pages that are still open do not find by themselves`,
    );
    return serveWorkbench(bench, { port: 0, secret: newSecret() });
  });
  const { pathname, port: taken } = new URL(serving.address);
  const mine = { port: Number(taken), secret: pathname.replaceAll('/', '') };
  await keep(cache, entry, { ...mine, used: now() });
  const beat = setInterval(async () => {
    const { kept: there } = await read(cache, entry);
    // Another program that serves the same folder may have kept its own since.
    if (there?.secret === mine.secret) await keep(cache, entry, { ...mine, used: now() });
  }, HOUR_MS);
  beat.unref();
  return {
    address: serving.address,
    close() {
      clearInterval(beat);
      return serving.close();
    },
  };
}

/** What was kept; null where nothing was, or where it is useless, and then why. */
async function read(
  cache: Cache,
  entry: readonly string[],
): Promise<{ kept: Kept; useless: null } | { kept: null; useless: string | null }> {
  const useless = (why: string | null) => ({ kept: null, useless: why });
  const info = await stat(cache.path(...entry)).catch(() => null);
  if (!info) return useless(null);
  if (process.platform !== 'win32' && (info.mode & 0o077) !== 0) {
    return useless('others may read what was kept of it');
  }
  if (process.getuid && info.uid !== process.getuid())
    return useless('what was kept of it is of another user');
  const bytes = await readSealed(cache, entry);
  if (!bytes) return useless('what was kept of it was damaged');
  try {
    return { kept: parseJson(bytes.toString('utf8'), 'the kept door', keptSchema, 'a door'), useless: null };
  } catch {
    return useless('what was kept of it is of another version of the program');
  }
}

async function keep(cache: Cache, entry: readonly string[], kept: Kept): Promise<void> {
  await writeSealed(cache, entry, Buffer.from(JSON.stringify(kept)), OWN);
}
