import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome'];

/** A browser of this machine; null where there is none. Nothing is ever downloaded. */
export function browserOf(path = process.env.PATH ?? ''): string | null {
  for (const folder of path.split(delimiter)) {
    for (const name of NAMES) {
      if (existsSync(join(folder, name))) return join(folder, name);
    }
  }
  return null;
}

/**
 * Starts this machine's browser without a window.
 * @throws Error with the one line that says how to get it
 */
export async function startBrowser(): Promise<Browser> {
  const executablePath = browserOf();
  if (executablePath === null) {
    throw new Error('no Chromium on this machine: apt-get install chromium, then run the tests again');
  }
  // As root, in a container, there is no sandbox to be had.
  return chromium.launch({ executablePath, args: ['--no-sandbox'] });
}
