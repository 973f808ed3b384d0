import { useEffect } from 'preact/hooks';
import { plural } from '../../../../base/figures.js';
import { verdictWording } from '../../../../words/moments-wording.js';
import { clip } from '../../state/clip.js';
import { evidence } from '../../state/evidence.js';
import { change, labels, undo, undoable } from '../../state/labels.js';
import { allReviewed, anew } from '../../state/sheet.js';
import { asked, asking, keepAsking, knownOf } from './asked.js';
import { Closer } from './closer.js';
import { MomentSheet } from './moment-sheet.js';
import './moments.css';
import { Quiet } from './quiet.js';
import { layOut, sheet } from './sheet.js';

/** Labelling by what stirs: what matters most first, and a sample of the rest. */
export function MomentsView() {
  useEffect(() => keepAsking(), []);
  const open = clip.value;
  const now = asked.value;
  useEffect(layOut, [now?.clip]);
  useEffect(() => {
    if (sheet.value.length === 0) layOut();
  }, [now]);
  if (!open) return <p>Choose a clip.</p>;
  if (!now) {
    return evidence.value.kind === 'reading' ? (
      <p role="status">
        Reading the clip <progress value={evidence.value.share} />
      </p>
    ) : (
      <p role="status">Looking for moments…</p>
    );
  }
  const left = now.rows.filter(({ members }) => knownOf(members) === null).length;
  const { word, why } = verdictWording(now.verdict, now.worthOfAll, left, now.quiet.looked);
  const { all, seen } = now.quiet.looked;
  return (
    <section class="moments">
      <h2>Moments of {open.name}</h2>
      <p class="verdict" role="status">
        <strong>{word}.</strong> {why} {asking.value && <span class="note">(working it out…)</span>}
      </p>
      <p class="note">
        Moments looked at: {now.rows.length - left} of {now.rows.length}. Quiet stretches looked through:{' '}
        {seen} of {all}. Moments so close to one you answered that you saw them with it count, too.{' '}
        {undoable.value !== null && (
          <button type="button" onClick={undo}>
            Take back: {undoable.value}
          </button>
        )}
      </p>
      <MomentSheet />
      <Closer />
      <Quiet />
      <Reviewed />
    </section>
  );
}

/** What counts as looked through, and the ways to say so. */
function Reviewed() {
  const now = labels.value;
  const partly = now.reviewed !== undefined;
  return (
    <section aria-labelledby="reviewed-title">
      <h3 id="reviewed-title">What counts as looked through</h3>
      {partly ? (
        <>
          <p>
            Only the moments you answered, with a second or so around each, and the quiet stretches you went
            through. The rest counts neither for nor against a setting. Moments come in the order in which
            they matter and not by chance, so until all of them are answered the figures elsewhere on this
            page are of those you answered, and not of the whole clip.
          </p>
          <p>
            <button type="button" onClick={() => change('all of it looked through', allReviewed)}>
              I have looked through all of it
            </button>
          </p>
        </>
      ) : (
        <>
          <p>
            All of it, the labels say: whatever stirs outside the {plural(now.visits.length, 'visit')} in them
            counts as nothing.
          </p>
          <p>
            <button
              type="button"
              onClick={() =>
                change('only the visits looked through', (labels) => ({
                  ...labels,
                  reviewed: labels.visits.map(({ start, end }) => ({ start, end })),
                }))
              }
            >
              No, only where the visits are
            </button>{' '}
            <button type="button" onClick={() => change('the labels begun anew', anew)}>
              Begin anew without the visits
            </button>
          </p>
        </>
      )}
    </section>
  );
}
