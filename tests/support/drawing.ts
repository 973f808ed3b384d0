import { rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';

const references = new URL('../report/snapshots/', import.meta.url);

/**
 * Holds an SVG drawing against its reference, in which every element has a line of its own, so that a change can be
 * read. One that differs is put beside it as NAME-changed.svg, to be looked at.
 */
export async function expectAsDrawn(svg: string, name: string): Promise<void> {
  const file = (suffix: string) => fileURLToPath(new URL(`${name}${suffix}.svg`, references));
  const lines = `${svg.replaceAll(/(?<!^)<(?!\/)/g, '\n<')}\n`;
  try {
    await expect(lines).toMatchFileSnapshot(file(''));
  } catch (error) {
    writeFileSync(file('-changed'), lines);
    throw error;
  }
  rmSync(file('-changed'), { force: true });
}
