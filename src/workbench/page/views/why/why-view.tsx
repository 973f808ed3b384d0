import { computed } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Box } from '../../../../diagnose/diagnosis.js';
import type { Polygon } from '../../../../engine/mask.js';
import { timesText } from '../../../../words/score-wording.js';
import { plural } from '../../../../words/wording.js';
import { type Key, useKeys } from '../../parts/keys.js';
import { LabelFirst } from '../../parts/label-first.js';
import { clip, step } from '../../state/clip.js';
import { labels } from '../../state/labels.js';
import { OfClip } from '../../state/of-clip.js';
import { replayed } from '../../state/settings.js';
import { photosPerTrigger } from '../../state/workspace.js';
import { Around } from './around.js';
import { asking, find, keyNow, learning, stopFinding, told } from './diagnosis.js';
import { Helps } from './helps.js';
import { MomentList } from './moment-list.js';
import { MomentTold } from './moment-told.js';
import { type Moment, momentName, momentsOf, triggerOf } from './moments.js';
import { takeBack, taken } from './take.js';
import './why.css';

const chosenId = new OfClip<string | null>(null);
/** A mask that is looked at before it is put on. */
const proposed = new OfClip<readonly Polygon[]>([]);

const moments = computed(() => (replayed.value ? momentsOf(replayed.value) : []));
const chosen = computed(() => moments.value.find(({ id }) => id === chosenId.value) ?? null);

/** Chooses a moment so many after the one that is chosen. */
function go(by: number): void {
  const at = moments.value.findIndex(({ id }) => id === chosenId.value);
  const next = moments.value[at < 0 ? 0 : Math.min(moments.value.length - 1, Math.max(0, at + by))];
  if (next) chosenId.value = next.id;
}

const keys: readonly Key[] = [
  { key: 'n', steps: true, what: 'the next thing that went wrong', act: () => go(1) },
  { key: 'b', steps: true, what: 'the one before', act: () => go(-1) },
  { key: 'ArrowRight', steps: true, what: 'one frame on', act: () => step(1) },
  { key: 'ArrowLeft', steps: true, what: 'one frame back', act: () => step(-1) },
  { key: 'u', what: 'undo what was taken over last', act: takeBack },
];

/** Why the dials as they stand fire at nothing, and why they miss what they miss. */
export function WhyView() {
  useKeys('Why', keys);
  const key = keyNow.value;
  const moment = chosen.value;
  useEffect(() => {
    // What was stopped is asked for again only by its button.
    if (moment && key !== null && asking.peek().kind === 'idle') void find();
  }, [moment?.id, key]);
  if (!clip.value) return <p>Choose a clip.</p>;
  const { value: now } = replayed;
  const isUnlabelled = now?.counts === null;
  return (
    <section class="why">
      <h2>Why</h2>
      {!isUnlabelled && <p role="status">{now ? summary(moments.value) : 'Reading the clip first.'}</p>}
      {taken.value && (
        <p class="taken" role="status">
          Done: {taken.value.words}.{' '}
          <button type="button" onClick={takeBack}>
            Undo that
          </button>
        </p>
      )}
      {isUnlabelled && (
        <>
          <p>
            Nothing is labelled yet, so nothing tells what was missed or fired at for nothing: mark visits
            first.
          </p>
          <LabelFirst />
        </>
      )}
      <div class="why-parts">
        {moments.value.length > 0 && (
          <MomentList
            moments={moments.value}
            chosen={moment?.id ?? null}
            told={told.value?.told ?? null}
            choose={(id) => {
              chosenId.value = id;
            }}
          />
        )}
        <div class="moment">
          {moment ? (
            <Chosen moment={moment} />
          ) : (
            moments.value.length > 0 && <p>Choose one of them to see why it happened.</p>
          )}
        </div>
      </div>
      {told.value && (
        <Helps
          told={told.value}
          look={(mask) => {
            proposed.value = mask;
          }}
        />
      )}
      {told.value?.told.luck && <p>{told.value.told.luck}</p>}
      {told.value && <Learning />}
    </section>
  );
}

function summary(all: readonly Moment[]): string {
  const missed = all.filter(({ kind }) => kind === 'missed').length;
  const times = timesText(all.length - missed, photosPerTrigger());
  if (all.length === 0) return 'Under the dials as they stand nothing went wrong on this clip.';
  return `Under the dials as they stand: fired at nothing ${times}, ${plural(missed, 'missed visit')}.`;
}

function Chosen({ moment }: { moment: Moment }) {
  const answer = told.value;
  return (
    <>
      <h3>{momentName(moment)}</h3>
      <Around moment={moment} box={boxOf(moment)} mask={labels.value.mask ?? []} proposed={proposed.value} />
      {answer ? <MomentTold moment={moment} told={answer} /> : <Finding />}
    </>
  );
}

/** What fired; of a missed visit where the labels say it was. */
function boxOf(moment: Moment): Box | null {
  if (moment.kind === 'nothing') return (told.value && triggerOf(told.value.told, moment)?.box) ?? null;
  const { start, end, name } = moment;
  const visit = labels.value.visits.find(
    (one) => one.start === start && one.end === end && (one.name ?? null) === name,
  );
  return visit?.box ?? null;
}

function Finding() {
  const { value: now } = asking;
  if (now.kind === 'asking') {
    return (
      <div class="finding" role="status">
        <p>{now.phase}</p>
        {now.share === null ? (
          <progress aria-label="how far" />
        ) : (
          <progress aria-label="how far" value={now.share} />
        )}
        <button type="button" onClick={stopFinding}>
          Stop
        </button>
      </div>
    );
  }
  return (
    <div class="finding" role="status">
      {now.kind === 'failed' && <p>{now.message}</p>}
      {now.kind === 'stopped' && <p>Stopped.</p>}
      <button type="button" onClick={() => void find()}>
        Find out why
      </button>
    </div>
  );
}

function Learning() {
  const count = labels.value.causes?.length ?? 0;
  return (
    <section class="learning">
      <label>
        <input
          type="checkbox"
          checked={learning.value}
          onChange={(event) => {
            learning.value = event.currentTarget.checked;
          }}
        />{' '}
        Learn from what you said of causes, here {plural(count, 'time')}, and in the other clips of this site
      </label>
      {told.value?.told.taught && <p>{told.value.told.taught}</p>}
    </section>
  );
}
