import { openClip } from '../state/clip.js';
import { show } from '../state/shown.js';

/**
 * The two ways to mark visits, where nothing can be told without them.
 * @param of the clip to mark them in; left out, the open one
 */
export function LabelFirst({ of }: { of?: string | undefined }) {
  const go = (view: string) => {
    if (of !== undefined) void openClip(of);
    show(view);
  };
  return (
    <p>
      <button type="button" onClick={() => go('moments')}>
        Tick pictures in Moments
      </button>{' '}
      <button type="button" onClick={() => go('label')}>
        Play it in Look and label
      </button>
    </p>
  );
}
