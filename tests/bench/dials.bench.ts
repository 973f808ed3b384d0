import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { positions, valueAt } from '../../src/camera/dials.js';
import { levelOf } from '../../src/engine/triggers.js';
import { Cache } from '../../src/store/cache.js';
import { newSecret } from '../../src/workbench/guard.js';
import type { ClipOpened } from '../../src/workbench/protocol.js';
import { serveWorkbench } from '../../src/workbench/serve.js';
import { Workspace } from '../../src/workbench/workspace.js';
import { startBrowser } from '../support/browser.js';
import { drawFrames, writeClip } from '../support/clips.js';
import { fineCamera, madeEvidence, madeVisits, RATE } from './made-evidence.js';
import { machine } from './measure.js';

const FRAMES = 3600 * RATE;
/** Turns that are timed, each to a position that was not asked for before, and those that go before to warm up. */
const [TURNS, WARM_UP] = [200, 20];
const PAGE = fileURLToPath(new URL('../../dist/workbench/page/', import.meta.url));

/** What the server gives for an hour, had the pixels been there. */
function columnsOfAnHour(): Buffer {
  const dial = fineCamera.controls.sensitivity!;
  const levels = [...new Set(positions(dial).map((p) => levelOf(valueAt(dial, p))))].sort((a, b) => a - b);
  const head = Math.ceil((2 + levels.length) / 2) * 8;
  const bytes = new ArrayBuffer(head + 8 * FRAMES + 8 * levels.length * FRAMES);
  new Uint32Array(bytes, 0, 2 + levels.length).set([FRAMES, levels.length, ...levels]);
  new Float64Array(bytes, head, FRAMES).set(Array.from({ length: FRAMES }, (_, k) => k / RATE));
  const counts = new Uint32Array(bytes, head + 8 * FRAMES);
  let k = 0;
  for (const { changed, region } of madeEvidence(FRAMES, madeVisits(FRAMES, 'dials'), 'dials')) {
    levels.forEach((level, i) => {
      counts[i * FRAMES + k] = changed[level]!;
      counts[(levels.length + i) * FRAMES + k] = region[level]!;
    });
    k++;
  }
  return Buffer.from(bytes);
}

test('a dial turned over an hour at 5 frames a second, re-scored and drawn in the browser', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'perchmark-bench-'));
  const cache = new Cache(join(folder, 'cache'));
  await writeClip(
    join(folder, 'hour'),
    drawFrames(10, () => null, 'bench'),
    null,
  );
  writeFileSync(join(folder, 'camera.json'), JSON.stringify(fineCamera));
  const nothing = () => undefined;
  const ports = { cache, onPhase: nothing, onProgress: nothing, onWarning: nothing };
  const workspace = await Workspace.open(folder, ports);
  const { address, close } = await serveWorkbench(
    { workspace, ports },
    { port: 0, secret: newSecret() },
    PAGE,
  );
  const browser = await startBrowser();
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 1600 } });
    const visits = madeVisits(FRAMES, 'dials').map((visit) => ({ ...visit, type: 'animal' as const }));
    const opened: ClipOpened = {
      id: 'hour',
      name: 'hour',
      site: null,
      width: 320,
      height: 240,
      seconds: FRAMES / RATE,
      rate: RATE,
      times: Array.from({ length: FRAMES }, (_, k) => k / RATE),
      warnings: [],
      version: 'made',
      labels: { labels: { version: 1, visits }, revision: 'made', file: 'labels.json' },
    };
    const line = (result: object) => ({
      contentType: 'application/x-ndjson',
      body: `${JSON.stringify({ result })}\n`,
    });
    const columns = columnsOfAnHour();
    await page.route('**/clips/hour/open', (route) => route.fulfill(line(opened)));
    await page.route('**/clips/hour/evidence', (route) =>
      route.request().method() === 'POST'
        ? route.fulfill(line({ address: 'api/clips/hour/evidence' }))
        : route.fulfill({ contentType: 'application/octet-stream', body: columns }),
    );
    await page.route('**/clips/hour/differences/*', (route) =>
      route.fulfill({ contentType: 'application/octet-stream', body: Buffer.alloc(320 * 240) }),
    );
    await page.goto(address);
    await page.getByRole('button', { name: /hour/ }).first().click();
    await page.getByRole('button', { name: 'Dials', exact: true }).click();
    await page.getByText(/tried on this clip/).waitFor({ timeout: 120_000 });
    const timed = await page.evaluate(
      async ({ turns, warmUp }) => {
        const score = document.querySelector('#these-title')!.parentElement!.querySelector('[role=status]')!;
        const strip = document.querySelector('.strip canvas') as HTMLCanvasElement;
        let drawn = 0;
        // The strip says what fires when it is drawn: the last stroke on it ends a turn.
        for (const name of ['stroke', 'fill', 'fillRect', 'fillText', 'clearRect'] as const) {
          const before = CanvasRenderingContext2D.prototype[name] as (...args: unknown[]) => unknown;
          Object.assign(CanvasRenderingContext2D.prototype, {
            [name](this: CanvasRenderingContext2D, ...args: unknown[]) {
              before.apply(this, args);
              if (this.canvas === strip) drawn = performance.now();
            },
          });
        }
        const slider = (name: string) =>
          document.querySelector(`[role=slider][aria-label="${name}"]`) as HTMLElement;
        const press = (name: string, key: string) =>
          slider(name).dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }));
        const frame = () => new Promise(requestAnimationFrame);
        const settled = async () => {
          for (let i = 0; i < 6; i++) await frame();
        };
        const told: number[] = [];
        const shown: number[] = [];
        press('sensitivity', 'Home');
        press('minimumArea', 'Home');
        await settled();
        let key = 'ArrowUp';
        for (let turn = 0; told.length < turns + warmUp && turn < 4 * (turns + warmUp); turn++) {
          const at = Number(slider('sensitivity').getAttribute('aria-valuenow'));
          if ((at === 50 && key === 'ArrowUp') || (at === 1 && key === 'ArrowDown' && turn > 0)) {
            press('minimumArea', 'ArrowUp');
            key = key === 'ArrowUp' ? 'ArrowDown' : 'ArrowUp';
            await settled();
          }
          // Turns begin anywhere between two refreshes, as hands do.
          await new Promise((go) => setTimeout(go, (turn * 7) % 17));
          let scored = 0;
          const observer = new MutationObserver(() => {
            scored = performance.now();
          });
          observer.observe(score, { childList: true, characterData: true, subtree: true });
          drawn = 0;
          const start = performance.now();
          press('sensitivity', key);
          await settled();
          observer.disconnect();
          // Where the score stays the same, there is nothing to see of it.
          if (scored === 0 || drawn === 0) continue;
          told.push(scored - start);
          shown.push(drawn - start);
        }
        return { told: told.slice(warmUp), shown: shown.slice(warmUp) };
      },
      { turns: TURNS, warmUp: WARM_UP },
    );
    const at = (times: number[], part: number) =>
      times.toSorted((a, b) => a - b)[Math.round(part * (times.length - 1))]!;
    const row = (times: number[]) =>
      `median ${at(times, 0.5).toFixed(1)} ms, 95th percentile ${at(times, 0.95).toFixed(1)} ms`;
    process.stdout.write(
      `\nA dial turned over ${FRAMES} frames, ${timed.told.length} turns in Chromium without a window\n  ${machine()}\n` +
        `  new score in the page: ${row(timed.told)}\n  strip drawn anew:      ${row(timed.shown)}\n`,
    );
    expect(timed.told.length).toBeGreaterThan(TURNS / 2);
    expect(at(timed.told, 0.95)).toBeLessThan(16);
    expect(at(timed.shown, 0.95)).toBeLessThan(16);
  } finally {
    await browser.close();
    await close();
    rmSync(folder, { recursive: true, force: true });
  }
});
