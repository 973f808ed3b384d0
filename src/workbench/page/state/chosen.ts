import { computed, signal } from '@preact/signals';
import { labels } from './labels.js';
import { type Chosen, listOf } from './sheet.js';

const chose = signal<Chosen | null>(null);

/** What is being looked at or edited; null where nothing is, or where it is no longer there. */
export const chosen = computed(() => {
  const { value } = chose;
  return value && value.at < listOf(labels.value, value.kind).length ? value : null;
});

export function choose(what: Chosen | null): void {
  chose.value = what;
}
