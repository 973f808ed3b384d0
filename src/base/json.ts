import type { z } from 'zod';
import { duplicateIn } from './duplicates.js';
import { hint, Problem } from './problem.js';
import { anyOf, knownFields, numberAt } from './schema-path.js';
import { quoted, short } from './text.js';

/**
 * Checks the text of a UTF-8 JSON file against a schema; every fault is one Problem naming file, place, expectation and
 * finding. "$schema" at the top level is for editors: any file may hold it, and nobody is handed it.
 */
export function parseJson<S extends z.ZodType>(
  text: string,
  file: string,
  schema: S,
  what: string,
): z.output<S> {
  const plain = text.replace(/^\uFEFF/, '');
  if (plain.trim() === '') throw new Problem('not-json', `${file}: the file is empty; expected ${what}`);
  let given: unknown;
  try {
    given = JSON.parse(plain);
  } catch (error) {
    const { message } = error as Error;
    throw new Problem('not-json', `${file}: not valid JSON (${byLine(message, plain)}); expected ${what}`);
  }
  refuseProto(given, file);
  refuseDuplicates(plain, file);
  const value = withoutSchema(given, file);
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  throw new Problem('bad-field', firstFault(result.error.issues, value, file, schema));
}

/**
 * What JSON.parse complains of, with the line and the letter in it: versions of Node count letters from the start of the file, or
 * quote some of it, and say at its end what stands before it here already.
 */
function byLine(message: string, text: string): string {
  const told = /^(.*?) (?:in|after) JSON at position (\d+)/.exec(message);
  const at = told ? Number(told[2]) : message.startsWith(UNEXPECTED) ? firstUnexpected(text) : null;
  if (at === null) return message;
  const before = text.slice(0, at).split('\n');
  const where = `line ${before.length} at letter ${before.at(-1)!.length + 1}`;
  const after = text[at];
  if ((after === ']' || after === '}') && /,\s*$/.test(text.slice(0, at))) {
    return `a comma too many before ${after}, ${where}`;
  }
  const what = told?.[1] ?? message.replace(/,(?: \.\.\.)?\s*".*$/s, '').replace(/ in JSON$/, '');
  return `${what}, ${where}`;
}

/** How a complaint of a letter begins that cannot stand where it does; text that only ends early is complained of otherwise. */
const UNEXPECTED = 'Unexpected token';

/** Where the first such letter stands: any beginning of the text that holds it is complained of so, and no shorter one. */
function firstUnexpected(text: string): number {
  let sound = 0;
  let faulty = text.length;
  while (faulty - sound > 1) {
    const middle = Math.floor((sound + faulty) / 2);
    if (isUnexpected(text.slice(0, middle))) faulty = middle;
    else sound = middle;
  }
  return sound;
}

function isUnexpected(text: string): boolean {
  try {
    JSON.parse(text);
    return false;
  } catch (error) {
    return (error as Error).message.startsWith(UNEXPECTED);
  }
}

function refuseDuplicates(text: string, file: string): void {
  const found = duplicateIn(text);
  if (!found) return;
  const name = quoted(String(found.path.at(-1)));
  const [first, again] = found.lines;
  const lines = first === again ? `line ${first}` : `lines ${first} and ${again}`;
  throw new Problem(
    'bad-field',
    `${file}: ${pathText(found.path)}: expected each field once, found ${name} twice (${lines}); keep one of them`,
  );
}

/** A field of this name would be dropped from a record without a word: to the language it is no field. */
function refuseProto(given: unknown, file: string): void {
  const open: unknown[] = [given];
  while (open.length > 0) {
    const value = open.pop();
    if (value === null || typeof value !== 'object') continue;
    if (!Array.isArray(value) && Object.hasOwn(value, '__proto__')) {
      throw new Problem(
        'bad-field',
        `${file}: "__proto__" is no name that a field can have; give it another name or take it out`,
      );
    }
    for (const entry of Object.values(value)) if (typeof entry === 'object') open.push(entry);
  }
}

function withoutSchema(value: unknown, file: string): unknown {
  if (value === null || typeof value !== 'object' || !Object.hasOwn(value, '$schema')) return value;
  const { $schema, ...rest } = value as { $schema: unknown };
  if (typeof $schema === 'string') return rest;
  throw new Problem('bad-field', `${file}: $schema: expected a string, found ${show($schema)}`);
}

type Issue = z.core.$ZodIssue;

function firstFault(issues: readonly Issue[], value: unknown, file: string, schema: z.ZodType): string {
  const issue = deepest(issues);
  const where = pathText(issue.path);
  if (issue.code === 'unrecognized_keys') {
    const key = issue.keys[0] ?? '?';
    const known = knownFields(schema, issue.path, at(value, issue.path));
    const list = known.length > 0 ? `; known here: ${known.join(', ')}` : '';
    return `${file}: ${pathText([...issue.path, key])}: unknown field${hint(key, known)}${list}; remove it or mend its name`;
  }
  const found = at(value, issue.path);
  const known = issue.code === 'invalid_value' ? issue.values.map(String) : [];
  const near = typeof found === 'string' ? hint(found, known) : '';
  const number = mayBeNumber(issue) ? numberAt(schema, issue.path) : null;
  const bare = number !== null && isNumeric(found) ? ' (without quotation marks)' : '';
  const expected =
    number ??
    (isBareUnion(issue) ? anyOf(schema, issue.path) : null) ??
    besideText(issue, value) ??
    expectation(issue);
  return `${file}: ${where}: expected ${expected}${bare}, found ${show(found)}${near}`;
}

/** A union reports one list of issues for each member; the member that got furthest is the one the user meant. */
function deepest(issues: readonly Issue[]): Issue {
  let best = issues[0]!;
  for (const issue of issues) {
    if (issue.code === 'invalid_union' && issue.errors.length > 0) {
      const inner = issue.errors.map((list) => deepest(list)).filter((i) => i.path.length > 0);
      const furthest = inner.sort((a, b) => b.path.length - a.path.length)[0];
      if (furthest) return { ...furthest, path: [...issue.path, ...furthest.path] };
    }
    if (issue.code === 'unrecognized_keys') return issue;
    if (issue.path.length > best.path.length) best = issue;
  }
  return best;
}

function mayBeNumber(issue: Issue): boolean {
  switch (issue.code) {
    case 'invalid_type':
      return issue.expected === 'number' || issue.expected === 'int';
    case 'too_small':
    case 'too_big':
      return issue.origin === 'number' || issue.origin === 'int';
    default:
      return false;
  }
}

/** A value that is none of several kinds, of which nobody said what it ought to be. */
function isBareUnion(issue: Issue): boolean {
  return issue.code === 'invalid_union' && /^Invalid (input|discriminator)/.test(issue.message);
}

function isNumeric(found: unknown): boolean {
  return typeof found === 'string' && found.trim() !== '' && Number.isFinite(Number(found));
}

/**
 * What is held against a field beside it (`beside` of the check's params) is told with that field as it is written, and with which
 * entry of its list it is, from 1 (`one`: what an entry is called).
 */
function besideText(issue: Issue, value: unknown): string | null {
  const { beside, one } = (issue.code === 'custom' ? issue.params : undefined) ?? {};
  if (typeof beside !== 'string' || typeof one !== 'string') return null;
  const around = issue.path.slice(0, -1);
  const entry = around.at(-1);
  const of = typeof entry === 'number' ? ` of ${one} ${entry + 1}` : '';
  return `${issue.message}${of}, ${show(at(value, [...around, beside]))}`;
}

function expectation(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return article(issue.expected);
    case 'invalid_value':
      return issue.values.length === 1
        ? JSON.stringify(issue.values[0])
        : `one of ${issue.values.map((v) => JSON.stringify(v)).join(', ')}`;
    case 'too_small':
      return `at least ${counted(issue.minimum, issue.origin)}`;
    case 'too_big':
      return `at most ${counted(issue.maximum, issue.origin)}`;
    case 'invalid_key':
      return 'a name';
    default:
      return issue.message;
  }
}

function counted(n: number | bigint, origin: string): string {
  const one = origin === 'array' ? 'entry' : 'character';
  const many = origin === 'array' ? 'entries' : 'characters';
  return `${n} ${Number(n) === 1 ? one : many}`;
}

/** Kinds of values by what they are to somebody who writes the file, where the schema's word for them is another. */
const PLAIN: Readonly<Record<string, string>> = {
  int: 'a whole number',
  record: 'an object',
  tuple: 'a list in [ ]',
  array: 'a list in [ ]',
};

function article(type: string): string {
  const plain = PLAIN[type];
  if (plain !== undefined) return plain;
  return /^[aeio]/.test(type) ? `an ${type}` : `a ${type}`;
}

/** clip.json-style paths: visits[2].start; the file itself is "top level". */
function pathText(path: readonly PropertyKey[]): string {
  if (path.length === 0) return 'top level';
  return path
    .map((p, i) => (typeof p === 'number' ? `[${p}]` : `${i === 0 ? '' : '.'}${short(String(p))}`))
    .join('');
}

function at(value: unknown, path: readonly PropertyKey[]): unknown {
  let here = value;
  for (const key of path) {
    if (here === null || typeof here !== 'object' || !Object.hasOwn(here, key)) return undefined;
    here = (here as Record<PropertyKey, unknown>)[key];
  }
  return here;
}

/** So many characters of a value are shown. */
const MOST_SHOWN = 60;

function show(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = written(value, MOST_SHOWN + 1);
  return short(text, MOST_SHOWN);
}

/** A value as JSON, at least its first `room` characters; each level takes one, so that depth is bounded too. */
function written(value: unknown, room: number): string {
  if (typeof value === 'number' && !Number.isFinite(value)) return String(value);
  if (value === null || typeof value !== 'object') return JSON.stringify(value) ?? String(value);
  const [open, close] = Array.isArray(value) ? '[]' : '{}';
  let text = open!;
  for (const [name, entry] of Object.entries(value)) {
    if (text.length >= room) return text;
    if (text !== open) text += ',';
    if (!Array.isArray(value)) text += `${JSON.stringify(name)}:`;
    text += written(entry, room - text.length);
  }
  return text + close;
}
