import { effect } from '@preact/signals';
import { clip } from './clip.js';
import { show, shownId } from './shown.js';

/** What an address names after '#': a view by its id and a clip by its own, '#moments/hedge'; null where it names none. */
export function placeOf(hash: string): { view: string | null; clip: string | null } {
  const [view = null, id = null] = hash.replace(/^#/, '').split('/').map(decoded);
  return { view: view || null, clip: id || null };
}

function decoded(part: string): string | null {
  try {
    return decodeURIComponent(part);
  } catch {
    // Typed by hand, or cut off.
    return null;
  }
}

/** Which clip the address names. */
export function clipInAddress(): string | null {
  return placeOf(location.hash).clip;
}

/**
 * Keeps in the address what is shown, so that the browser's Back leads to the view before, and a page that is loaded anew, as
 * phones do, shows what it showed.
 * @param views their ids
 */
export function keepAddress(views: readonly string[]): void {
  const shownBy = (hash: string) => views.find((id) => id === placeOf(hash).view);
  show(shownBy(location.hash) ?? shownId.peek());
  effect(() => {
    const [view, before] = [shownId.value, shownBy(location.hash)];
    const id = clip.value?.id ?? clipInAddress();
    const to = `#${view}${id === null ? '' : `/${encodeURIComponent(id)}`}`;
    if (before === undefined || before === view) history.replaceState(null, '', to);
    else {
      history.pushState(null, '', to);
      // Gone to from the middle of a long view, it begins at its beginning.
      window.scrollTo(0, 0);
    }
  });
  window.addEventListener('popstate', () => {
    const view = shownBy(location.hash);
    if (view !== undefined) show(view);
  });
}
