import { signal } from '@preact/signals';

/** Which view is shown, by its id. */
export const shownId = signal('label');

export function show(id: string): void {
  shownId.value = id;
}
