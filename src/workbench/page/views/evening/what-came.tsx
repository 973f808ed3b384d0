import { useEffect } from 'preact/hooks';
import { dayText, hourText } from '../../../../words/evening-wording.js';
import type { EveningTold } from '../../../evening-protocol.js';
import { SaidOfSaving, useSaving } from '../../parts/saving.js';
import { Working } from '../../parts/working.js';
import {
  askWhatCame,
  beginForm,
  form,
  keyOf,
  marksOf,
  promiseOf,
  saveReport,
  stopAsking,
  told,
} from './asking.js';
import { Outcome } from './outcome.js';
import type { EveningSession } from './session.js';
import { evenings, promises } from './stage.js';

/** Whether it was as promised: what must be known for that, and the answer. */
export function WhatCame({ session }: { session: EveningSession }) {
  const { open } = session.counts.value;
  const isMarked = open < session.photos.length;
  const set = (part: Partial<typeof form.value>) => {
    form.value = { ...form.value, ...part };
  };
  const times = session.photos.flatMap(({ time }) => time ?? []);
  useEffect(() => {
    const entry = evenings.value.find(({ id }) => id === session.id);
    beginForm(session, promiseOf(entry, promises.value, times));
  }, [session]);
  const [first, last] = [times[0], times.at(-1)];
  const now = form.value;
  return (
    <section class="what-came" aria-label="What came of it">
      <h3>What came of it</h3>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void askWhatCame(session);
        }}
      >
        <label class="field">
          <span>Held against what was promised</span>
          <select
            value={now.promised}
            onChange={({ currentTarget }) => set({ promised: currentTarget.value })}
          >
            <option value="">nothing: just tell me what came</option>
            {promises.value.map((one) => (
              <option key={keyOf(one)} value={keyOf(one)}>
                {one.file}
                {one.site !== null && ` (${one.site})`}
                {one.kind === 'plan' && ', a plan'}, {dayText(one.changed / 1000)}
              </option>
            ))}
          </select>
        </label>
        {promises.value.length === 0 && (
          <p class="note">
            Nothing was promised in this folder yet: in Answer, “Save what it promises, for the evening”.
          </p>
        )}
        <div class="row">
          <label class="field">
            <span>Out from (by the camera’s clock)</span>
            <input
              value={now.from}
              maxLength={40}
              placeholder={first === undefined ? '06:30' : hourText(first)}
              onInput={({ currentTarget }) => set({ from: currentTarget.value })}
            />
          </label>
          <label class="field">
            <span>Out until</span>
            <input
              value={now.until}
              maxLength={40}
              placeholder={last === undefined ? '21:00' : hourText(last)}
              onInput={({ currentTarget }) => set({ until: currentTarget.value })}
            />
          </label>
          <label class="field">
            <span>The camera’s clock, ahead of UTC (for a plan)</span>
            <input
              value={now.clock}
              maxLength={40}
              placeholder="+01:00"
              onInput={({ currentTarget }) => set({ clock: currentTarget.value })}
            />
          </label>
        </div>
        <p class="note">
          Left empty: from the first photo to the last, with photos an hour told by what lies between the
          first bunch and the last, and a clock of the plan’s own time.
        </p>
        <p class="row">
          <button type="submit" class="main" disabled={!isMarked || told.value.kind === 'working'}>
            Tell me what came of it
          </button>
          <span class="note">{isMarked ? '' : 'Mark some photos first.'}</span>
        </p>
      </form>
      <State session={session} />
    </section>
  );
}

function State({ session }: { session: EveningSession }) {
  const now = told.value;
  switch (now.kind) {
    case 'none':
      return null;
    case 'working':
      return <Working phase={now.phase} share={now.share} onStop={stopAsking} />;
    case 'refused':
      return (
        <p class="trouble" role="alert">
          {now.why}
        </p>
      );
    case 'told': {
      // Of another evening, which is told no more.
      if (!now.of.startsWith(`${session.id} `)) return null;
      const isStale = now.of !== marksOf(session) || now.asked !== JSON.stringify(form.value);
      return (
        <>
          {isStale && (
            <p class="trouble" role="status">
              Marks or fields have been changed since: ask again.
            </p>
          )}
          <Outcome result={now.told.result} />
          <Report told={now.told} />
        </>
      );
    }
  }
}

function Report({ told }: { told: EveningTold }) {
  const saving = useSaving((replace) => saveReport(told, replace));
  return (
    <>
      <p class="row">
        <button type="button" onClick={() => void saving.save(false)}>
          Save the report
        </button>
        <span class="note">Nobody is shown in it, nor anything that is not marked.</span>
      </p>
      <SaidOfSaving of={saving} />
    </>
  );
}
