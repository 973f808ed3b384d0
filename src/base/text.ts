/**
 * Characters that act on a terminal, a page or the line they stand in instead of being seen: controls, line separators,
 * turns of the writing direction, halves of surrogate pairs.
 */
const ACTING = /[\p{Cc}\p{Cs}\u2028-\u202e\u2066-\u2069]/gu;

/** Characters of a text of somebody else that are quoted, a file's name excepted. */
const MOST_QUOTED = 80;
/** Characters of one word in a message: the longest paths that are in use. */
const MOST_OF_WORD = 1000;
const LONG_WORDS = new RegExp(`\\S{${MOST_OF_WORD + 1},}`, 'g');
/** Characters of a whole message. */
const MOST_OF_LINE = 3000;

/** A text in which nothing acts: what would is spelled out as in JSON, \u001b. Line breaks and tabs stay. */
export function visible(text: string): string {
  return text.replace(ACTING, (c) => (c === '\n' || c === '\t' ? c : spelled(c)));
}

/** As `visible`, with line breaks and tabs spelled out too: a name in running text. */
export function visibleName(text: string): string {
  return text.replace(ACTING, spelled);
}

/** A JSON document that is safe to print: JSON itself spells out some acting characters only. */
export function visibleJson(json: string): string {
  return json.replace(ACTING, (c) => (c === '\n' ? c : spelled(c)));
}

/** A document as `--json` prints it, and as it stands in a file. */
export function printedJson(document: unknown): string {
  return `${visibleJson(JSON.stringify(document, null, 2))}\n`;
}

function spelled(c: string): string {
  const short = { '\n': '\\n', '\r': '\\r', '\t': '\\t' }[c];
  return short ?? `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`;
}

/** A message as one line of bearable length in which nothing acts; line breaks become spaces. */
export function oneLine(text: string): string {
  const long = text.length > 4 * MOST_OF_LINE ? middleOut(text, 4 * MOST_OF_LINE) : text;
  const line = visible(long.replace(/\s*[\r\n]\s*/g, ' '));
  const words = line.replace(LONG_WORDS, (word) => middleOut(word, MOST_OF_WORD));
  return words.length > MOST_OF_LINE ? middleOut(words, MOST_OF_LINE) : words;
}

/** Cut short with an ellipsis where it is longer than that. */
export function short(text: string, most = MOST_QUOTED): string {
  if (text.length <= most) return text;
  // Not through the middle of a character of two halves.
  return `${text.slice(0, most - 3).replace(/[\ud800-\udbff]$/, '')}...`;
}

/** A text of somebody else in quotation marks, cut short. */
export function quoted(text: string): string {
  return JSON.stringify(short(text));
}

/** Both ends say more than one: what it is about stands at the start, what to do at the end. */
function middleOut(text: string, most: number): string {
  const end = Math.floor(most / 4);
  return `${text.slice(0, most - end - 3)}...${text.slice(-end)}`;
}
