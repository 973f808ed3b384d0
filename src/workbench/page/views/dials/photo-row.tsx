import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { clock, plural } from '../../../../words/wording.js';
import type { ClipOpened } from '../../../protocol.js';
import { pictureAddress } from '../../link/pictures.js';
import { useWidth } from '../../parts/strip/use-width.js';
import { VerdictMark } from '../../parts/verdict-mark.js';
import { verdictWords } from '../../parts/verdict-words.js';
import { clip, frameAt, showTime } from '../../state/clip.js';
import { replayed } from '../../state/settings.js';
import { inSight, type Photo, photosOf } from './photos.js';

/** Pixels from one photo to the next. */
const EACH = 148;

/** The photos that the dials as they stand would have taken; only those in sight are there. */
export function PhotoRow() {
  const open = clip.value;
  const result = replayed.value;
  return open && result ? <Row open={open} photos={photosOf(result, open.seconds)} /> : null;
}

function Row({ open, photos }: { open: ClipOpened; photos: readonly Photo[] }) {
  const row = useRef<HTMLDivElement>(null);
  const width = useWidth(row);
  const scrolled = useSignal(0);
  /** The one that keys reach. */
  const at = useSignal(0);
  const moved = useRef(false);
  useEffect(() => {
    if (!moved.current) return;
    moved.current = false;
    row.current?.querySelector<HTMLElement>('[tabindex="0"]')?.focus();
  });
  const { from, to } = inSight(photos.length, EACH, scrolled.value, width);
  const reached = Math.min(at.value, photos.length - 1);
  const go = (place: number) => {
    const element = row.current;
    if (!element) return;
    at.value = Math.min(photos.length - 1, Math.max(0, place));
    const left = at.value * EACH;
    if (left < element.scrollLeft) element.scrollLeft = left;
    if (left + EACH > element.scrollLeft + element.clientWidth) {
      element.scrollLeft = left + EACH - element.clientWidth;
    }
    scrolled.value = element.scrollLeft;
    moved.current = true;
  };
  // The one that keys reach is always there, so that the row can be come to.
  const places = new Set([reached, ...Array.from({ length: Math.max(0, to - from) }, (_, i) => from + i)]);
  return (
    <section class="photos" aria-labelledby="photos-title">
      <h3 id="photos-title">{plural(photos.length, 'photo')} it would have taken</h3>
      <div
        ref={row}
        class="photo-row"
        onScroll={(event) => {
          scrolled.value = event.currentTarget.scrollLeft;
        }}
      >
        <ul style={{ width: `${photos.length * EACH}px` }}>
          {photos.length > 0 &&
            [...places]
              .sort((a, b) => a - b)
              .map((place) => {
                const { time, verdict, word } = photos[place]!;
                return (
                  <li key={`${place} ${time}`} style={{ left: `${place * EACH}px` }}>
                    <button
                      type="button"
                      tabIndex={place === reached ? 0 : -1}
                      onClick={() => {
                        at.value = place;
                        showTime(time);
                      }}
                      onKeyDown={(event) => {
                        const to = {
                          ArrowRight: place + 1,
                          ArrowLeft: place - 1,
                          Home: 0,
                          End: photos.length - 1,
                        }[event.key];
                        if (to === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
                        event.preventDefault();
                        go(to);
                      }}
                    >
                      <img
                        src={pictureAddress(open, frameAt(time), {
                          shown: EACH * globalThis.devicePixelRatio,
                        })}
                        width={open.width}
                        height={open.height}
                        loading="lazy"
                        decoding="async"
                        alt=""
                      />
                      <span>
                        <VerdictMark verdict={verdict} /> {word}
                        {verdict === 'true' && word !== verdictWords.true ? ', caught' : ''}
                      </span>
                      <span class="note">{clock(time, 1)}</span>
                    </button>
                  </li>
                );
              })}
        </ul>
      </div>
    </section>
  );
}
