import type { Polygon } from '../../../../engine/mask.js';
import type { SiteResult } from '../../../../jobs/tune.js';
import { plural } from '../../../../words/wording.js';
import { addressOf } from '../../link/addresses.js';
import { clip } from '../../state/clip.js';
import { change, labels } from '../../state/labels.js';
import { turn } from '../../state/settings.js';
import { show } from '../../state/shown.js';
import { photosPerTrigger } from '../../state/workspace.js';
import { hiddenText, maskGain } from './mask-told.js';

/** The recommended mask on a picture of the place; nothing where none is recommended. */
export function MaskPicture({ site }: { site: SiteResult }) {
  const shapes = site.recommended.settings.mask;
  const [first] = site.clips;
  if (!site.mask || !shapes || first === undefined) return null;
  const open = clip.value;
  const here = open !== null && site.clips.includes(open.id);
  const masked = JSON.stringify(labels.value.mask ?? []) === JSON.stringify(shapes);
  return (
    <figure class="mask">
      <div>
        <img src={`${addressOf(here ? open.id : first)}/frames/0`} alt={`The place, seen by the camera`} />
        <svg viewBox="0 0 100 100" preserveAspectRatio="none" role="img" aria-label={maskText(shapes)}>
          {shapes.map((shape) => (
            <g key={JSON.stringify(shape)}>
              <polygon class="veil" points={pointsOf(shape)} />
              <polygon class="light" points={pointsOf(shape)} />
              <polygon class="dots" points={pointsOf(shape)} />
            </g>
          ))}
        </svg>
      </div>
      <figcaption>
        <p>
          Mask what is dotted: it is not watched, so that nothing there fires the camera, and no animal there
          either. It hides {hiddenText(shapes)}.
        </p>
        <p>{maskGain(site, photosPerTrigger())}</p>
        {here && (
          <>
            {masked && <p class="note">It is in the labels of {open.name}.</p>}
            <button
              type="button"
              onClick={() => {
                if (!masked) change('the recommended mask taken', (now) => ({ ...now, mask: shapes }));
                turn(site.recommended.controls);
                show('mask');
              }}
            >
              {masked ? 'Set' : `Put it into the labels of ${open.name}, set`} these dials, and see which
              visits it gains and loses
            </button>
          </>
        )}
      </figcaption>
    </figure>
  );
}

function maskText(shapes: readonly Polygon[]): string {
  const corners = shapes.map((shape) =>
    shape.map(([x, y]) => `${Math.round(100 * x)} ${Math.round(100 * y)}`).join(', '),
  );
  return `A mask of ${plural(shapes.length, 'shape')}, corners in % from the left and from the top: ${corners.join('; ')}`;
}

function pointsOf(shape: Polygon): string {
  return shape.map(([x, y]) => `${100 * x},${100 * y}`).join(' ');
}
