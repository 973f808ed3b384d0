import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { clip, frame } from '../state/clip.js';
import { arrived, pictureOf } from '../state/pictures.js';

/**
 * The frame that is shown; until it has come, the one before it.
 * @param children what lies over it, in the same place and size
 */
export function FramePicture({ children }: { children?: ComponentChildren }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const open = clip.value;
  const at = frame.value;
  const picture = open && arrived.value >= 0 ? pictureOf(open.id, at) : null;
  useEffect(() => {
    const element = canvas.current;
    if (!element || !picture) return;
    if (element.width !== picture.width) element.width = picture.width;
    if (element.height !== picture.height) element.height = picture.height;
    element.getContext('2d')?.drawImage(picture, 0, 0);
    element.dataset.frame = String(at);
  }, [picture, at]);
  useEffect(() => {
    if (canvas.current && open) canvas.current.style.aspectRatio = `${open.width} / ${open.height}`;
  }, [open]);
  if (!open) return null;
  return (
    <div class="frame">
      <canvas ref={canvas} role="img" aria-label={`frame ${at + 1} of ${open.times.length}`} />
      {children}
    </div>
  );
}
