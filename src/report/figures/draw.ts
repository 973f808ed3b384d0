import * as Plot from '@observablehq/plot';
import { parseHTML } from 'linkedom';
import { visible } from '../../base/text.js';
import { escaped } from '../markup.js';
import { colour } from '../palette.js';

/** What a figure is called and says, for those who do not see it; `id` is unique on its page. */
export interface Caption {
  id: string;
  title: string;
  description: string;
}

/** As much of a DOM element as is needed here; the compiler knows no DOM on this side. */
interface DomElement {
  outerHTML: string;
  getAttribute(name: string): string | null;
  setAttribute(name: string, value: string): void;
  removeAttribute(name: string): void;
  querySelectorAll(selector: string): Iterable<DomElement>;
  remove(): void;
}

/** The size of a figure's text, in its own pixels. */
export const FONT = 11;
const PLACES = ['d', 'transform', 'x', 'y', 'x1', 'x2', 'y1', 'y2', 'width', 'height'];

/**
 * Draws a plot without a browser and gives its SVG: the same options give the same bytes, whatever was drawn before.
 * @param definitions SVG to stand before the plot, patterns for instance
 */
export function draw(caption: Caption, options: Plot.PlotOptions, definitions = ''): string {
  const { document } = parseHTML('<!doctype html><html><body></body></html>');
  const svg: DomElement = Plot.plot({ ...options, document, className: 'plot' });
  for (const style of svg.querySelectorAll('style')) style.remove();
  for (const element of svg.querySelectorAll('*')) {
    // Plot names its groups after marks; the figure's own title and description say more.
    element.removeAttribute('aria-label');
    for (const name of PLACES) {
      const value = element.getAttribute(name);
      if (value?.includes('.') && !value.includes('em')) element.setAttribute(name, rounded(value));
    }
  }
  svg.setAttribute('font-size', String(FONT));
  svg.setAttribute('fill', colour('ink'));
  return framed(caption, visible(svg.outerHTML), definitions);
}

/** An SVG image with its title and description in front. */
export function framed({ id, title, description }: Caption, svg: string, definitions = ''): string {
  const named = `role="img" aria-labelledby="${id}-title ${id}-desc"`;
  const head = `<title id="${id}-title">${escaped(title)}</title><desc id="${id}-desc">${escaped(description)}</desc>`;
  return svg.replace(
    /^<svg([^>]*)>/,
    (_, attributes: string) =>
      `<svg xmlns="http://www.w3.org/2000/svg" ${named}${attributes}>${head}${definitions}`,
  );
}

/** Numbers in an attribute to a tenth of a pixel. */
function rounded(value: string): string {
  return value.replace(/-?\d*\.\d+(?:e-?\d+)?/g, (x) => String(Math.round(Number(x) * 10) / 10 || 0));
}
