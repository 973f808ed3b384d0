import { clock } from '../../../../base/figures.js';
import { FramePicture } from '../../parts/frame-picture.js';
import { Strip } from '../../parts/strip/strip.js';
import { clip, step, time } from '../../state/clip.js';

export function LabelView() {
  const open = clip.value;
  if (!open) return <p>Choose a clip.</p>;
  return (
    <section>
      <h2>{open.name}</h2>
      <FramePicture />
      <p>
        <button type="button" onClick={() => step(-1)}>
          back
        </button>{' '}
        {clock(time.value, 1)}{' '}
        <button type="button" onClick={() => step(1)}>
          on
        </button>
      </p>
      <Strip />
    </section>
  );
}
