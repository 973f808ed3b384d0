import type { Settings } from '../../../../camera/settings.js';
import {
  balanceText,
  hourText,
  nothingText,
  unlabelledText,
  visitsText,
} from '../../../../words/score-wording.js';
import { LabelFirst } from '../../parts/label-first.js';
import { VisitButtons } from '../../parts/visit-buttons.js';
import { showTime } from '../../state/clip.js';
import { kept, keptFrom, keptReading, keptReplayed } from '../../state/kept.js';
import { replayed, settings, settingsFileNow, turnTo } from '../../state/settings.js';
import { photosPerTrigger } from '../../state/workspace.js';
import type { Replayed } from '../../worker/replay.js';
import { heldAgainst } from './held-against.js';
import { KeptChoice } from './kept-choice.js';

/** What the dials as they stand do, and what they do otherwise than what is kept. */
export function ScorePanel() {
  return (
    <div class="side-by-side">
      <section aria-labelledby="these-title">
        <h3 id="these-title">These dials</h3>
        <Score of={replayed.value} under={settings.value} live />
        {replayed.value?.counts && <p class="note">{hourText(photosPerTrigger())}</p>}
        {replayed.value?.counts === null && <LabelFirst />}
        <Missed />
        <button
          type="button"
          onClick={() => {
            keptFrom.value = { kind: 'dials', file: settingsFileNow.value };
          }}
        >
          Keep these to hold others against
        </button>
      </section>
      <section aria-labelledby="kept-title">
        <h3 id="kept-title">Held against</h3>
        <KeptChoice />
        <KeptScore />
      </section>
      <Difference />
    </div>
  );
}

function Score({
  of,
  under,
  live = false,
}: {
  of: Replayed | null;
  under: Pick<Settings, 'cooldown'> | null;
  live?: boolean;
}) {
  return of?.counts && under ? (
    <p class="score" {...(live && { role: 'status' })}>
      <strong>{visitsText(of.score)}</strong>; {nothingText(of.score, under, photosPerTrigger())}
    </p>
  ) : (
    <p {...(live && { role: 'status' })}>{of === null ? '…' : unlabelledText}</p>
  );
}

function Missed() {
  const missed = (replayed.value?.visits ?? []).filter(({ caught }) => !caught);
  const visits = missed.map(({ start, name }) => ({ start, name: name ?? 'visit' }));
  return <VisitButtons what="Missed:" visits={visits} onGo={({ start }) => showTime(start)} />;
}

function KeptScore() {
  const now = kept.value;
  if (!now) return null;
  const { settings, note } = now;
  return (
    <>
      {note !== null && <p class="note">{note}</p>}
      {settings && (
        <>
          {keptReading.value !== null && (
            <p class="note">
              Reading the clip under their own mask <progress value={keptReading.value} />
            </p>
          )}
          <Score of={keptReplayed.value} under={settings} />
          <button type="button" onClick={() => turnTo(settings)}>
            Set the dials to these
          </button>
        </>
      )}
    </>
  );
}

function Difference() {
  const [mine, other] = [replayed.value, keptReplayed.value];
  const against = mine && other && heldAgainst(mine, other);
  const name = kept.value?.name;
  if (!against || name === undefined) return null;
  const go = ({ start }: { start: number }) => showTime(start);
  return (
    <section class="difference" aria-label={`These dials against ${name}`}>
      <p>
        Against {name}: {balanceText(against.balance, photosPerTrigger())}.
      </p>
      <VisitButtons what="Gained:" visits={against.gained} onGo={go} />
      <VisitButtons what="Lost:" visits={against.lost} onGo={go} />
    </section>
  );
}
