import { computed } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { plural } from '../../../../base/figures.js';
import { knower } from '../../../../tune/moments/known.js';
import { clip, showTime, time } from '../../state/clip.js';
import { labels } from '../../state/labels.js';
import { show } from '../../state/shown.js';
import { asked, keepAsking, knownOf } from '../moments/asked.js';

/** The moments of the open clip at which something stirs, in order of time; null until they are known. */
const stirs = computed(() => {
  const now = asked.value;
  return now && now.clip === clip.value?.id ? now.moments : null;
});

/** What there is to look at of them, counted as Moments counts it: those that are alike and close by as one. */
const count = computed(() => {
  const rows = stirs.value ? (asked.value?.rows ?? []) : [];
  return { all: rows.length, left: rows.filter(({ members }) => knownOf(members) === null).length };
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
  const { all, left } = count.value;
  if (all === 0) return null;
  if (left === 0)
    return <p class="note">All {plural(all, 'moment')} at which something stirs are looked at.</p>;
  return (
    <p class="stirs">
      Something stirs at {plural(all, 'moment')}; {left} of them nobody has looked at.{' '}
      <button type="button" onClick={goToStir}>
        To the next of them <kbd>G</kbd>
      </button>{' '}
      <button type="button" onClick={() => show('moments')}>
        Tick them as pictures, in Moments
      </button>
    </p>
  );
}
