import { z } from 'zod';
import { type Visit, visitTypes } from '../../../score/labels.js';

/**
 * What a cue says, for people first: the name, or where there is none the type; then lines of key: value, from which it is read
 * again. A name that cannot stand in a line by itself, or would be taken for the type, stands in `name:` as JSON.
 */
export function visitText({ type, name, count, box }: Visit): string {
  const plain = name !== undefined && isPlain(name) && name !== type;
  return escaped(
    [
      plain ? name : type,
      `type: ${type}`,
      ...(name !== undefined && !plain ? [`name: ${JSON.stringify(name)}`] : []),
      ...(count === undefined ? [] : [`count: ${count}`]),
      ...(box ? [`box: ${box.join(' ')}`] : []),
    ].join('\n'),
  );
}

export function ignoredText(why: string | undefined): string {
  const plain = why !== undefined && isPlain(why) && why !== NOT_COUNTED;
  const json = why !== undefined && !plain ? `\nwhy: ${JSON.stringify(why)}` : '';
  return escaped(`${plain ? why : NOT_COUNTED}\ntype: ignored${json}`);
}

export function causeText(cause: string): string {
  return escaped(`${cause}\ntype: cause`);
}

const NOT_COUNTED = 'not counted';

const fraction = z.coerce.number().min(0).max(1);
const boxSchema = z.tuple([fraction, fraction, fraction, fraction]);

/** What the text of a cue says. */
export type Said =
  | {
      kind: 'visit';
      visit: Omit<Visit, 'start' | 'end'>;
      /** Lines beside the name that another program wrote, which labels have no place for. */
      leftOut: number;
    }
  | { kind: 'ignored'; why: string | undefined }
  | { kind: 'cause'; cause: string };

/**
 * Reads the text of a cue, of this program's or of another's: there it is an animal, and its first line with something in it is the
 * name.
 * @returns null where lines of ours hold what we never write
 */
export function saidIn(payload: string): Said | null {
  const text = plainText(payload);
  const [title = '', ...lines] = text.split('\n');
  const fields = new Map(lines.map((line) => splitAt(line, ': ')));
  const type = fields.get('type');
  const word = visitTypes.find((one) => one === type);
  if (type === 'ignored') {
    const why = fields.has('why') ? stringIn(fields.get('why')!) : title === NOT_COUNTED ? undefined : title;
    return why === null ? null : { kind: 'ignored', why };
  }
  if (type === 'cause') return { kind: 'cause', cause: title };
  if (word === undefined) {
    const [name, ...more] = text
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== '');
    const visit = { type: 'animal' as const, ...(name !== undefined && { name }) };
    return { kind: 'visit', visit, leftOut: more.length };
  }
  const name = fields.has('name') ? stringIn(fields.get('name')!) : title === word ? undefined : title;
  const count = fields.has('count') ? Number(fields.get('count')) : undefined;
  const box = fields.has('box') ? boxSchema.safeParse(fields.get('box')!.split(' ')).data : undefined;
  const sound =
    name !== null &&
    (count === undefined || (Number.isInteger(count) && count >= 1 && count <= 1_000_000)) &&
    (box !== undefined || !fields.has('box'));
  if (!sound) return null;
  return {
    kind: 'visit',
    visit: {
      type: word,
      ...(name !== undefined && { name }),
      ...(count !== undefined && { count }),
      ...(box && { box }),
    },
    leftOut: 0,
  };
}

/** Whether a text can be a line of its own, and comes back as it was. */
function isPlain(text: string): boolean {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
  return text !== '' && text.trim() === text && !/[\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff\p{Cs}]/u.test(text);
}

function stringIn(json: string): string | null {
  try {
    const value: unknown = JSON.parse(json);
    return typeof value === 'string' ? value : null;
  } catch {
    return null;
  }
}

function splitAt(line: string, sign: string): [string, string] {
  const at = line.indexOf(sign);
  return at < 0 ? [line, ''] : [line.slice(0, at), line.slice(at + sign.length)];
}

/** WebVTT's text must not hold these as they are; with > goes the arrow, which would end it. */
function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

/** The escapes of WebVTT's cue text, and what they stand for. */
const ESCAPES: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  nbsp: '\u00a0',
  lrm: '\u200e',
  rlm: '\u200f',
};

/** Cue text without its tags. */
function plainText(payload: string): string {
  return payload
    .replace(/<[^<>]*>/g, '')
    .replace(/&(amp|lt|gt|nbsp|lrm|rlm);/g, (_, name: string) => ESCAPES[name]!);
}
