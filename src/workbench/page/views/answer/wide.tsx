import type { ComponentChildren } from 'preact';

/** What is wider than a phone is scrolled by itself, by keys too. */
export function Wide({ label, children }: { label: string; children: ComponentChildren }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what can be scrolled must be come to by keys
    <section class="scroll" aria-label={label} tabIndex={0}>
      {children}
    </section>
  );
}
