import { useEffect, useRef } from 'preact/hooks';
import { plural } from '../../../../words/wording.js';
import { FramePicture } from '../../parts/frame-picture.js';
import { clip, frame } from '../../state/clip.js';
import { settings } from '../../state/settings.js';
import { workspace } from '../../state/workspace.js';
import { changes, followChanges, marking } from './changes.js';

/** The frame that is shown, with what changed at the threshold of the dials. */
export function ChangedPicture() {
  useEffect(followChanges, []);
  return (
    <figure class="changed-picture">
      <FramePicture>
        <Marks />
      </FramePicture>
      <figcaption>
        <label>
          <input
            type="checkbox"
            checked={marking.value}
            onChange={(event) => {
              marking.value = event.currentTarget.checked;
            }}
          />{' '}
          Mark what changed
        </label>
        <p class="note">
          <Told />
        </p>
      </figcaption>
    </figure>
  );
}

function Marks() {
  const ref = useRef<HTMLCanvasElement>(null);
  const told = changes.value;
  useEffect(() => {
    const canvas = ref.current;
    const context = canvas?.getContext('2d');
    if (!canvas || !context) return;
    if (!told) {
      context.clearRect(0, 0, canvas.width, canvas.height);
      return;
    }
    const { width, height, pixels } = told.marked;
    if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
    context.putImageData(new ImageData(pixels, width, height), 0, 0);
  }, [told]);
  return (
    <span class="marks" aria-hidden="true">
      <canvas ref={ref} />
    </span>
  );
}

/** What is marked, in words. */
function Told() {
  const [told, now, camera] = [changes.value, settings.value, workspace.value?.camera];
  if (!told || !now || !camera || !clip.value) return null;
  const { changed, counted } = told.marked;
  const before =
    told.frame !== frame.value ? ' in the frame before this one, at which the camera looked' : '';
  const most = changed > now.mostChanged ? `, but more than ${now.mostChanged} in all` : '';
  const enough = counted >= now.minimumArea ? `enough${most}` : `less than ${now.minimumArea}`;
  return camera.area === 'changed' ? (
    <>
      Hatched: {plural(changed, 'pixel')} that changed{before}; that is {enough}.
    </>
  ) : (
    <>
      Hatched: {plural(changed, 'pixel')} that changed{before}. Outlined: the {plural(counted, 'pixel')} in
      one piece that count; that is {enough}.
    </>
  );
}
