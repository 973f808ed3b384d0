import { signal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import type { DiagnosisTold } from '../../../diagnosis-protocol.js';
import { inShort, type Moment, momentName } from './moments.js';

/** Listed at once: a windy day has thousands. */
const AT_ONCE = 100;
const shownCount = signal(AT_ONCE);

/** What went wrong, to choose one from: a list box of the ARIA practices, whose choice follows the focus. */
export function MomentList({
  moments,
  chosen,
  told,
  choose,
}: {
  moments: readonly Moment[];
  chosen: string | null;
  told: DiagnosisTold | null;
  choose: (id: string) => void;
}) {
  const list = useRef<HTMLDivElement>(null);
  const at = moments.findIndex(({ id }) => id === chosen);
  const count = Math.max(shownCount.value, at + 1);
  const go = (to: number) => {
    const moment = moments[Math.min(moments.length - 1, Math.max(0, to))];
    if (!moment) return;
    choose(moment.id);
    requestAnimationFrame(() => list.current?.querySelector<HTMLElement>('[aria-selected="true"]')?.focus());
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const to = {
      ArrowDown: at + 1,
      ArrowUp: at - 1,
      Home: 0,
      End: moments.length - 1,
      PageDown: at + 10,
      PageUp: at - 10,
    }[event.key];
    if (to === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    go(to);
  };
  return (
    <div class="moments">
      <div role="listbox" aria-label="What went wrong" ref={list} onKeyDown={onKeyDown}>
        {moments.slice(0, count).map((moment, i) => (
          <div
            key={moment.id}
            role="option"
            class={moment.kind}
            aria-selected={moment.id === chosen}
            tabIndex={i === Math.max(0, at) ? 0 : -1}
            onClick={() => choose(moment.id)}
            onKeyDown={(event) => {
              if (event.key === 'Enter' || event.key === ' ') {
                event.preventDefault();
                choose(moment.id);
              }
            }}
          >
            <span class="sign" aria-hidden="true" />
            <span>
              {momentName(moment)}
              <small>{inShort(told, moment)}</small>
            </span>
          </div>
        ))}
      </div>
      {moments.length > count && (
        <button
          type="button"
          onClick={() => {
            shownCount.value = count + AT_ONCE;
          }}
        >
          Show {Math.min(AT_ONCE, moments.length - count)} more of {moments.length - count}
        </button>
      )}
    </div>
  );
}
