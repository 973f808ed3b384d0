import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { ofProgram } from './of-program.js';

/** The version in package.json, which stands two folders above this file once built. @throws Problem 'incomplete' */
export function version(): string {
  const file = ofProgram(fileURLToPath(new URL('../../package.json', import.meta.url)));
  return (JSON.parse(readFileSync(file, 'utf8')) as { version: string }).version;
}
