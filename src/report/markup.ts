import { visible } from '../base/text.js';

/** Text that is markup already; anything else that is put into markup is escaped. */
export class Markup {
  constructor(readonly text: string) {}
}

type Part = Markup | string | number | null | readonly Markup[];

/** Markup from a template: strings and numbers put into it are escaped, null is left out. */
export function html(strings: TemplateStringsArray, ...parts: readonly Part[]): Markup {
  return new Markup(strings.reduce((sum, text, i) => sum + written(parts[i - 1] ?? null) + text));
}

function written(part: Part): string {
  if (part === null) return '';
  if (part instanceof Markup) return part.text;
  return typeof part === 'object' ? part.map((p) => p.text).join('') : escaped(String(part));
}

/** Text as it stands in markup, between tags or in a quoted attribute; what would act there is spelled out. */
export function escaped(text: string): string {
  return visible(text).replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);
}
