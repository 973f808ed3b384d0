import { expect, it, onTestFinished, vi } from 'vitest';
import { startBrowser } from '../support/browser.js';
import { scratch } from '../support/workbench.js';

it('a machine without a browser fails its tests in one line that says how to get one', async () => {
  vi.stubEnv('PATH', scratch());
  onTestFinished(() => {
    vi.unstubAllEnvs();
  });
  await expect(startBrowser()).rejects.toThrow(/^no Chromium on this machine: apt-get install chromium/);
});
