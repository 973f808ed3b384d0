/** A field that an object holds twice: the way to it, and the lines, from 1, on which it stands. */
export interface Duplicate {
  path: (string | number)[];
  lines: [first: number, again: number];
}

/** Where the scan is within an object, with the places of its fields so far, or within an array. */
interface Level {
  fields: Map<string, number> | null;
  at: string | number;
}

/**
 * The first field that an object of a JSON text holds twice, or null. JSON.parse takes the last of them without a word,
 * so that a second empty "visits" would drop all visits. Nothing here calls itself: text may be nested to any depth.
 * @param text what JSON.parse takes
 */
export function duplicateIn(text: string): Duplicate | null {
  const open: Level[] = [];
  for (let i = 0; i < text.length; i++) {
    const here = open.at(-1);
    switch (text[i]) {
      case '{':
        open.push({ fields: new Map(), at: '' });
        break;
      case '[':
        open.push({ fields: null, at: 0 });
        break;
      case '}':
      case ']':
        open.pop();
        break;
      case ',':
        if (typeof here?.at === 'number') here.at++;
        break;
      case '"': {
        const start = i++;
        while (i < text.length && text[i] !== '"') i += text[i] === '\\' ? 2 : 1;
        if (!here?.fields || !isName(text, i + 1)) break;
        here.at = JSON.parse(text.slice(start, i + 1)) as string;
        const first = here.fields.get(here.at);
        if (first !== undefined) {
          return { path: open.map(({ at }) => at), lines: [lineOf(text, first), lineOf(text, start)] };
        }
        here.fields.set(here.at, start);
      }
    }
  }
  return null;
}

/** Whether a string that ends before here is a field's name: a colon follows. */
function isName(text: string, end: number): boolean {
  const colon = /\s*:/y;
  colon.lastIndex = end;
  return colon.test(text);
}

function lineOf(text: string, place: number): number {
  return text.slice(0, place).split('\n').length;
}
