import type { Unsaved } from './saver.js';

const PREFIX = 'perchmark unsaved';

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
  try {
    if (unsaved) localStorage.setItem(key, JSON.stringify({ ...unsaved, when: new Date().toISOString() }));
    else localStorage.removeItem(key);
  } catch {
    // A browser that keeps nothing (a private window, a full store): the page still saves as soon as it can.
  }
}

/** What pages before this one left of a file's labels. */
export function unsavedOf(file: string): Kept[] {
  try {
    const keys = Array.from({ length: localStorage.length }, (_, i) => localStorage.key(i)!);
    return keys
      .filter((key) => key.startsWith(`${PREFIX} ${file} `) && !key.endsWith(page))
      .map((key) => {
        const { when, ...unsaved } = JSON.parse(localStorage.getItem(key)!) as Unsaved & { when: string };
        return { ...unsaved, when: new Date(when), forget: () => localStorage.removeItem(key) };
      });
  } catch {
    return [];
  }
}
