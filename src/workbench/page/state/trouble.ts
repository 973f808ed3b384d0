import { signal } from '@preact/signals';

/** What went wrong last, one line; null where nothing did or the owner put it away. */
export const trouble = signal<string | null>(null);
