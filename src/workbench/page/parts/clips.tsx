import { useEffect, useRef } from 'preact/hooks';
import { plural } from '../../../base/figures.js';
import { clip, openClip, opening } from '../state/clip.js';
import { clipsNow } from '../state/clips-now.js';
import { workspace } from '../state/workspace.js';

/** The clips of the opened folder. */
export function Clips() {
  const clips = clipsNow.value;
  const isDemo = workspace.value !== null && workspace.value.folder === null;
  const list = useRef<HTMLUListElement>(null);
  const at = clip.value?.id;
  useEffect(() => {
    // Sideways alone: the page stays where it is.
    const open = list.current?.querySelector<HTMLElement>('[aria-current]');
    if (open) list.current!.scrollLeft = open.offsetLeft - list.current!.offsetLeft;
  }, [at]);
  const unlabelled = isDemo ? 'labels drawn with it' : 'not labelled';
  return (
    <nav class="clips" aria-label="Clips">
      <h2>Clips</h2>
      {workspace.value !== null && clips.length === 0 && <p class="note">None yet.</p>}
      {isDemo && (
        <p class="note">
          Drawn, not filmed, and each by itself: of one spot they show the same things, with other leaves and
          grass.
        </p>
      )}
      <ul ref={list}>
        {clips.map(({ id, name, site, visits, problem }) => (
          <li key={id}>
            <button
              type="button"
              aria-current={at === id ? 'true' : undefined}
              disabled={problem !== null}
              onClick={() => void openClip(id)}
            >
              <strong>{name}</strong>
              <span class="note">
                {problem ??
                  [site, visits === null ? unlabelled : plural(visits, 'visit')].filter(Boolean).join(', ')}
              </span>
            </button>
            {opening.value?.id === id && (
              <p class="note" role="status">
                {opening.value.phase}
                {opening.value.share !== null && <progress value={opening.value.share} />}
              </p>
            )}
          </li>
        ))}
      </ul>
    </nav>
  );
}
