import { signal } from '@preact/signals';

const NAMES = ['paper', 'card', 'ink', 'faint', 'rule', 'area', 'caught', 'nothing', 'ignored'] as const;

/** The page's colours as a canvas takes them. */
export type Palette = Record<(typeof NAMES)[number], string>;

function read(): Palette {
  const style = getComputedStyle(document.documentElement);
  return Object.fromEntries(
    NAMES.map((name) => [name, style.getPropertyValue(`--${name}`).trim()]),
  ) as Palette;
}

const now = signal<Palette | null>(null);

/** Follows the page from light to dark; read when first asked for, when the page has its style. */
export function palette(): Palette {
  if (now.value === null) {
    now.value = read();
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => {
      now.value = read();
    });
  }
  return now.value;
}
