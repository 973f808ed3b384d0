import type { Unsaved } from './saver.js';

const PREFIX = 'perchmark unsaved';
const LOCK = 'perchmark page ';

/** This page among others of the same clip: none writes over what another kept. */
const page = crypto.randomUUID();

/** What a page that is no longer there left unsaved. */
export interface Kept extends Unsaved {
  /** When it was kept. */
  when: Date;
  forget(): void;
}

/**
 * Puts aside, in the browser, what is not on disk yet.
 * @param file names the file, as the server does
 * @param unsaved null: all is on disk
 */
export function keepUnsaved(file: string, unsaved: Unsaved | null): void {
  const key = `${PREFIX} ${file} ${page}`;
  if (unsaved) claim();
  try {
    if (unsaved) localStorage.setItem(key, JSON.stringify({ ...unsaved, when: new Date().toISOString() }));
    else localStorage.removeItem(key);
  } catch {
    // A browser that keeps nothing (a private window, a full store): the page still saves as soon as it can.
  }
}

/** What pages that are no longer open left of a file's labels; what cannot be read of it is left alone. */
export async function unsavedOf(file: string): Promise<Kept[]> {
  const open = await openPages();
  return keysOf(file).flatMap((key) => {
    if (open.has(key.slice(key.lastIndexOf(' ') + 1))) return [];
    try {
      const { when, ...unsaved } = JSON.parse(localStorage.getItem(key)!) as Unsaved & { when: string };
      return [{ ...unsaved, when: new Date(when), forget: () => localStorage.removeItem(key) }];
    } catch {
      return [];
    }
  });
}

function keysOf(file: string): string[] {
  try {
    const keys = Array.from({ length: localStorage.length }, (_, i) => localStorage.key(i)!);
    return keys.filter((key) => key.startsWith(`${PREFIX} ${file} `));
  } catch {
    // A browser that keeps nothing.
    return [];
  }
}

let isClaimed = false;

/** Holds a lock that goes with this page, so that others can tell whether it is still open. */
function claim(): void {
  if (isClaimed || !globalThis.navigator?.locks) return;
  isClaimed = true;
  void navigator.locks.request(LOCK + page, () => new Promise(() => undefined));
}

async function openPages(): Promise<Set<string>> {
  const { held = [] } = (await globalThis.navigator?.locks?.query()) ?? {};
  const pages = held.flatMap(({ name }) => (name?.startsWith(LOCK) ? [name.slice(LOCK.length)] : []));
  return new Set([...pages, page]);
}
