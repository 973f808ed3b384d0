import { signal } from '@preact/signals';
import { useLayoutEffect } from 'preact/hooks';

/** One key of the page. */
export interface Key {
  /** As KeyboardEvent.key gives it: 'ArrowRight', 'v'. */
  key: string;
  shift?: boolean;
  /** With Ctrl, or with the command key. */
  ctrl?: boolean;
  /** Whether it steps, so that held down it goes on; any other acts once for each time it is pressed. */
  steps?: boolean;
  /** In words, for the list of keys. */
  what: string;
  act: () => void;
}

/** Whether it is neither a letter nor a named key: which signs need Shift depends on the keyboard. */
export function isSign({ key }: Pick<Key, 'key'>): boolean {
  return key.length === 1 && key.toLowerCase() === key.toUpperCase();
}

const LETTERS = 'perchmark letters';

/** Whether letters and signs by themselves work as keys: who speaks to the computer may not want them to (WCAG 2.1.4). */
export const lettersWork = signal(keptLetters());

export function setLetters(work: boolean): void {
  lettersWork.value = work;
  try {
    localStorage.setItem(LETTERS, work ? 'on' : 'off');
  } catch {
    // A browser that keeps nothing: it holds until the page is left.
  }
}

function keptLetters(): boolean {
  try {
    return localStorage.getItem(LETTERS) !== 'off';
  } catch {
    return true;
  }
}

/** The keys that work now, in groups. */
export const keysNow = signal<readonly { group: string; keys: readonly Key[] }[]>([]);

/**
 * Keys that work while a part of the page is shown. They leave alone what is typed into a field, keys with Alt, and whatever
 * a widget takes for itself.
 * @param keys the same array at every drawing, or one made anew only when it differs
 */
export function useKeys(group: string, keys: readonly Key[]): void {
  // As soon as it is shown: the first key after a click may come before the next picture of the screen.
  useLayoutEffect(() => {
    const mine = { group, keys };
    keysNow.value = [...keysNow.value, mine];
    const listen = (event: KeyboardEvent) => {
      if (event.altKey || event.defaultPrevented || isTyping(event.target)) return;
      // What lies over the page has the keys to itself.
      if (document.querySelector('dialog[open]')) return;
      const ctrl = event.ctrlKey || event.metaKey;
      if (!lettersWork.value && event.key.length === 1 && !ctrl) return;
      const key = keys.find(
        (one) =>
          one.key.toLowerCase() === event.key.toLowerCase() &&
          (one.ctrl ?? false) === ctrl &&
          (isSign(one) || (one.shift ?? false) === event.shiftKey),
      );
      if (!key) return;
      event.preventDefault();
      if (!event.repeat || key.steps) key.act();
    };
    window.addEventListener('keydown', listen);
    return () => {
      keysNow.value = keysNow.value.filter((one) => one !== mine);
      window.removeEventListener('keydown', listen);
    };
  }, [group, keys]);
}

/** What a key does once for each time it is pressed, however long it is held down. */
export function once(event: KeyboardEvent, act: () => void): void {
  if (!event.repeat) act();
}

/** Whether keys belong to what is being filled in. */
function isTyping(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (
    target.isContentEditable ||
    target instanceof HTMLTextAreaElement ||
    target instanceof HTMLSelectElement
  )
    return true;
  return target instanceof HTMLInputElement && !['checkbox', 'radio', 'button'].includes(target.type);
}
