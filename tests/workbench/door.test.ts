import { chmodSync, readdirSync, statSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { Cache } from '../../src/store/cache.js';
import { writeSealed } from '../../src/store/sealed.js';
import { serveByKeptDoor } from '../../src/workbench/door.js';
import type { Serving } from '../../src/workbench/serve.js';
import { Workspace } from '../../src/workbench/workspace.js';
import { damages } from '../support/damages.js';
import { scratch } from '../support/workbench.js';

const HOUR = 3_600_000;

/** One start of the program after another over the same kept things, each ended before the next. */
function starts(cacheRoot = scratch()) {
  const notes: string[] = [];
  const nothing = () => undefined;
  return {
    notes,
    doorFile: () => join(cacheRoot, 'doors', readdirSync(join(cacheRoot, 'doors'))[0]!),
    async start(folder: string, at = 0, port?: number): Promise<Serving> {
      const cache = new Cache(cacheRoot);
      const ports = {
        cache,
        onPhase: nothing,
        onProgress: nothing,
        onWarning: (line: string) => notes.push(line),
      };
      const workspace = await Workspace.open(folder, ports);
      const serving = await serveByKeptDoor({ workspace, ports }, port, () => at);
      onTestFinished(() => serving.close());
      return serving;
    },
    async address(folder: string, at = 0, port?: number): Promise<URL> {
      const { address, close } = await this.start(folder, at, port);
      await close();
      return new URL(address);
    },
  };
}

it('a folder is served at the same address again, and at no other folder’s', async () => {
  const [one, other] = [scratch(), scratch()];
  const runs = starts();
  const first = await runs.address(one);
  const elsewhere = await runs.address(other);
  expect((await runs.address(join(one, '.'))).href).toBe(first.href);
  expect([elsewhere.port === first.port, elsewhere.pathname === first.pathname]).toEqual([false, false]);
  expect(runs.notes).toEqual([]);
});

it('a secret that nobody used for a day is not used again; its port is', async () => {
  const folder = scratch();
  const runs = starts();
  const first = await runs.address(folder);
  const kept = await runs.address(folder, 23 * HOUR);
  expect(kept.href).toBe(first.href);
  const late = await runs.address(folder, 48 * HOUR);
  expect([late.port, late.pathname === first.pathname]).toEqual([first.port, false]);
});

it('where its port is taken, it says so and has another, and another secret', async () => {
  const folder = scratch();
  const runs = starts();
  const first = await runs.address(folder);
  const squatter = createServer().listen(Number(first.port), '127.0.0.1');
  await new Promise((done) => squatter.once('listening', done));
  onTestFinished(() => {
    squatter.close();
  });
  const second = await runs.address(folder);
  expect([second.port === first.port, second.pathname === first.pathname]).toEqual([false, false]);
  expect(runs.notes).toEqual([expect.stringContaining(`port ${first.port}, at which this folder was open`)]);
  expect((await runs.address(folder)).href).toBe(second.href);
});

it('a port that is asked for takes no secret that another port had', async () => {
  const folder = scratch();
  const runs = starts();
  const first = await runs.address(folder);
  const { port } = await starts().address(scratch());
  const asked = await runs.address(folder, 0, Number(port));
  expect([asked.port, asked.pathname === first.pathname]).toEqual([port, false]);
});

it.skipIf(process.platform === 'win32')(
  'nobody else may read what is kept, and what somebody else could have read is not used again',
  async () => {
    const folder = scratch();
    const runs = starts();
    const first = await runs.address(folder);
    expect(statSync(runs.doorFile()).mode & 0o777).toBe(0o600);
    chmodSync(runs.doorFile(), 0o644);
    expect((await runs.address(folder)).pathname).not.toBe(first.pathname);
    expect(runs.notes).toEqual([
      expect.stringMatching(/open before is not used again, because others may read what was kept of it/),
    ]);
    expect(statSync(runs.doorFile()).mode & 0o777).toBe(0o600);
  },
);

it('says that an address kept by another version, or damaged, is not used again', async () => {
  const folder = scratch();
  const root = scratch();
  const runs = starts(root);
  await runs.address(folder);
  const [name] = readdirSync(join(root, 'doors')) as [string];
  await writeSealed(new Cache(root), ['doors', name], Buffer.from('{ "port": 5 }'), 0o600);
  const second = await runs.address(folder);
  expect(runs.notes).toEqual([expect.stringContaining('is of another version of the program')]);
  expect((await runs.address(folder)).href).toBe(second.href);
  damages['cut short']!(runs.doorFile());
  await runs.address(folder);
  expect(runs.notes.slice(1)).toEqual([expect.stringContaining('what was kept of it was damaged')]);
});
