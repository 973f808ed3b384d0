import { extname } from 'node:path';
import Mustache from 'mustache';
import { hint, Problem } from '../base/problem.js';
import { short } from '../base/text.js';
import { readRegular } from './regular.js';

/** A configuration file of the camera's own, in which names in double braces stand for values. */
export interface Template {
  /** '.conf'; empty where its name has no ending. */
  ending: string;
  /** All bytes of the template but those of the names are as they were, in whatever encoding it is. */
  fill(values: Readonly<Record<string, number>>): Uint8Array;
}

const MOST_BYTES = 2 ** 20;
/** Of mustache's tokens those that are a name, with and without escaping, which is off. */
const NAMES = ['name', '&'];
/** What else mustache knows, and nothing here needs. */
const others: Record<string, string> = {
  '#': 'a section',
  '^': 'an inverted section',
  '>': 'a partial',
  '=': 'a change of braces',
};

/** Looks names up as they stand: a dot in one leads nowhere. */
class Values extends Mustache.Context {
  override lookup(name: string): unknown {
    return this.view[name];
  }
}

/**
 * Reads a template (mustache: names only).
 * @param known the names that may stand in it, in ASCII
 * @throws Problem 'file-missing', 'file-unreadable', or 'bad-field' for anything but known names
 */
export async function readTemplate(file: string, known: readonly string[]): Promise<Template> {
  const bytes = await readRegular(file, 'a template', MOST_BYTES);
  if (bytes.includes(0)) {
    throw new Problem(
      'file-unreadable',
      `${file}: this is no text file (it holds bytes of 0); expected a configuration file with names in double braces, in UTF-8 or another encoding that has ASCII in it`,
    );
  }
  const text = bytes.toString(BYTE_BY_BYTE);
  check(text, file, known);
  return {
    ending: extname(file),
    fill: (values) =>
      Buffer.from(Mustache.render(text, new Values(values), {}, { escape: String }), BYTE_BY_BYTE),
  };
}

/** Each byte as one character and back: nothing of a file in another encoding than UTF-8 is lost, for braces are ASCII. */
const BYTE_BY_BYTE = 'latin1';

/** What was read byte by byte, as it is shown. */
function shown(text: string, most?: number): string {
  return short(Buffer.from(text, BYTE_BY_BYTE).toString('utf8'), most);
}

/** @throws Problem 'bad-field' for anything but known names in double braces */
function check(text: string, file: string, known: readonly string[]): void {
  const refuse = (at: number, said: string): never => {
    throw new Problem('bad-field', `${file}: line ${text.slice(0, at).split('\n').length}: ${said}`);
  };
  const names = `the names it may hold are ${known.map((name) => short(name)).join(', ')}`;
  let depth = 0;
  let found = 0;
  for (const [kind, value, start, end] of parsed(text, refuse)) {
    if (kind === 'text') depth = depthAfter(value, depth, () => refuse(start, closedUnopened));
    else if (others[kind] !== undefined) {
      refuse(
        start,
        `expected names in double braces only, found ${others[kind]} (${shown(text.slice(start, end), 30)})`,
      );
    } else if (NAMES.includes(kind)) {
      found++;
      if (/[{}]/.test(value)) refuse(start, `${unclosed} {{${shown(value.trim(), 30)}`);
      if (!known.includes(value))
        refuse(start, `there is no '${shown(value)}'${hint(value, known)}; ${names}`);
    }
  }
  if (found === 0)
    refuse(0, `expected a name in double braces, such as {{${known[0]}}}, found none; ${names}`);
}

const unclosed = 'expected two braces that close a name, found none after';
const closedUnopened = 'found two closing braces that nothing opens; names stand in double braces, {{name}}';

type Token = [kind: string, value: string, start: number, end: number];

function parsed(text: string, refuse: (at: number, said: string) => never): Token[] {
  try {
    return Mustache.parse(text) as Token[];
  } catch (error) {
    // Sections that are not closed, or closed and not opened, fail here too; the place stands at the end.
    const said = (error as Error).message;
    const at = Number(/ at (\d+)$/.exec(said)?.[1] ?? 0);
    const section = /section "?([^"]*)"?/.exec(said)?.[1];
    if (section !== undefined) {
      return refuse(at, `expected names in double braces only, found a section (${shown(section, 30)})`);
    }
    const from = text.lastIndexOf('{{', at);
    return refuse(from, `${unclosed} ${shown(text.slice(from).split('\n')[0] ?? '', 30)}`);
  }
}

/** A file may hold braces of its own, '}}' too, as long as they are opened before: JSON does. */
function depthAfter(text: string, before: number, refuse: () => never): number {
  let depth = before;
  for (let i = 0; i < text.length; i++) {
    if (text[i] === '{') depth++;
    else if (text[i] === '}') {
      depth = Math.max(0, depth - 1);
      if (text[i + 1] === '}' && depth === 0) refuse();
    }
  }
  return depth;
}
