import type { Page } from 'playwright-core';
import { expect, onTestFinished } from 'vitest';
import { startBrowser } from './browser.js';

export interface Opened {
  page: Page;
  /** What the page complained of: errors in its console, exceptions, requests that failed. */
  complaints: string[];
}

/**
 * Opens an address in a browser of this machine, which goes when the test is done.
 * @param size of the window, pixels
 */
export async function openPage(
  address: string,
  size: { width: number; height: number } = { width: 1280, height: 800 },
  colorScheme: 'light' | 'dark' = 'light',
): Promise<Opened> {
  const browser = await startBrowser();
  onTestFinished(() => browser.close());
  const page = await browser.newPage({ viewport: size, colorScheme, reducedMotion: 'reduce' });
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(String(error)));
  await page.goto(address);
  expect(await page.title()).toBe('Perchmark');
  return { page, complaints };
}
