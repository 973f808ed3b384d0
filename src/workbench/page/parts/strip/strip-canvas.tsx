import { useLayoutEffect, useRef } from 'preact/hooks';
import { caught } from '../../state/caught.js';
import { chosen } from '../../state/chosen.js';
import { time } from '../../state/clip.js';
import { labels } from '../../state/labels.js';
import { replayed } from '../../state/settings.js';
import { drawStrip } from './draw.js';
import { HEIGHT, type Span } from './layout.js';
import { palette } from './palette.js';
import { usePointer } from './pointer.js';
import type { Shades } from './shades.js';

interface Props {
  span: Span;
  shades: Shades | null;
  /** A part that is shown larger elsewhere. */
  window: { from: number; to: number } | null;
}

/** One strip over time, to look at and to point at; what it does by pointer is done elsewhere by keyboard. */
export function StripCanvas({ span, shades, window }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const pointer = usePointer(canvas, span);
  const drawn = {
    span,
    shades,
    labels: labels.value,
    caught: caught.value,
    triggers: replayed.value?.triggers ?? [],
    chosen: chosen.value,
    now: time.value,
    window,
  };
  const colours = palette();
  // With what is said in words, not a refresh later.
  useLayoutEffect(() => {
    const element = canvas.current;
    const context = element?.getContext('2d');
    if (!element || !context || span.width === 0) return;
    const scale = globalThis.devicePixelRatio;
    const [width, height] = [Math.round(span.width * scale), Math.round(HEIGHT * scale)];
    if (element.width !== width || element.height !== height) Object.assign(element, { width, height });
    drawStrip(context, drawn, colours, scale);
  });
  return <canvas ref={canvas} class="strip-canvas" {...pointer} />;
}
