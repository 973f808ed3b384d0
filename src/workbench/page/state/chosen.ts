import { computed } from '@preact/signals';
import { session } from './labels.js';
import type { Chosen } from './sheet.js';

/** What is being looked at or edited of the open clip; null where nothing is. */
export const chosen = computed(() => session.value?.chosen.value ?? null);

export function choose(what: Chosen | null): void {
  if (session.value) session.value.chosen.value = what;
}
