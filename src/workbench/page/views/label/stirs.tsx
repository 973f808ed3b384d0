import { computed } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { plural } from '../../../../base/figures.js';
import { knower } from '../../../../tune/moments/known.js';
import { clip, showTime, time } from '../../state/clip.js';
import { labels } from '../../state/labels.js';
import { show } from '../../state/shown.js';
import { asked, keepAsking } from '../moments/asked.js';

/** The moments of the open clip at which something stirs, in order of time; null until they are known. */
const stirs = computed(() => {
  const now = asked.value;
  return now && now.clip === clip.value?.id ? now.moments : null;
});

/** Those of them that nobody has looked at. */
const unseen = computed(() => {
  const known = knower(labels.value);
  return (stirs.value ?? []).filter((moment) => known(moment) === null);
});

/** To the next moment at which something stirs and that nobody has looked at; after the last of them to the first. */
export function goToStir(): void {
  const next = unseen.value.find(({ start }) => start > time.value + 1e-9) ?? unseen.value[0];
  if (next) showTime(next.start);
}

/** How much of a clip there is to look at, and the ways through it that leave out what is still. */
export function Stirs() {
  useEffect(() => keepAsking(), []);
  const [all, left] = [stirs.value, unseen.value];
  if (!all || all.length === 0) return null;
  if (left.length === 0)
    return <p class="note">All {all.length} moments at which something stirs are looked at.</p>;
  return (
    <p class="stirs">
      Something stirs at {plural(all.length, 'moment')}; {left.length} of them nobody has looked at.{' '}
      <button type="button" onClick={goToStir}>
        To the next of them <kbd>G</kbd>
      </button>{' '}
      <button type="button" onClick={() => show('moments')}>
        Tick them as pictures, in Moments
      </button>
    </p>
  );
}
