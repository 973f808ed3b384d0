import { addressOf, clip, frame } from '../state/clip.js';

/** The frame that is shown. */
export function FramePicture() {
  const open = clip.value;
  if (!open) return null;
  return (
    <img
      class="frame"
      src={`${addressOf(open.id)}/frames/${frame.value}`}
      width={open.width}
      height={open.height}
      alt={`frame ${frame.value + 1} of ${open.times.length}`}
    />
  );
}
