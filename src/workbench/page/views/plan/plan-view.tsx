import { useEffect } from 'preact/hooks';
import { plural } from '../../../../base/figures.js';
import type { SettingsFile } from '../../../../camera/settings.js';
import { MOST_ALLOWED } from '../../../../tune/goal.js';
import type { PlanAsked } from '../../../plan-protocol.js';
import { LabelFirst } from '../../parts/label-first.js';
import { Working } from '../../parts/working.js';
import { clip } from '../../state/clip.js';
import { clipsNow } from '../../state/clips-now.js';
import { controls } from '../../state/settings.js';
import { loadWorkspace, workspace } from '../../state/workspace.js';
import { clipsBySite, type SiteClips, toLabel } from '../answer/clips-of-site.js';
import { askPlan, type Form, form, loadPlanned, planning, stopPlanning } from './asking.js';
import { ForecastForm } from './forecast.js';
import './plan.css';
import { signal } from '@preact/signals';
import { NumberField } from '../../parts/number-field.js';
import { WishRows } from '../../parts/wish-rows.js';
import { wish } from '../../state/answer.js';
import { PlanTold } from './told.js';
import { csvOf, momentsOf } from './typed.js';

/** What is used now: '', the dials as they stand, or a settings file. */
const usedNow = signal<'' | 'dials' | `file ${string}`>('');

/** The coming days: what to set when, and whether it is worth the walks. */
export function PlanView() {
  useEffect(() => {
    void loadWorkspace();
    void loadPlanned();
  }, []);
  const sites = clipsBySite(clipsNow.value, workspace.value?.folder === null);
  const now = form.value;
  const here = sites.findIndex(({ site }) => clip.value !== null && site === clip.value.site);
  const place = now.site !== null && now.site < sites.length ? now.site : Math.max(0, here);
  const group = sites[place];
  if (!group) {
    return (
      <section class="plan">
        <h2>The coming days</h2>
        <p>There is no clip in this folder yet: bring a recording in first.</p>
      </section>
    );
  }
  const asked = askedOf(group, now);
  const set = (part: Partial<Form>) => {
    form.value = { ...form.value, ...part };
  };
  const isReady = group.labelled.length > 0 && (now.file !== null || momentsOf(now.typed).length > 0);
  return (
    <section class="plan">
      <h2>The coming days</h2>
      <p>What to set in the weather that is foretold, and whether changing it is worth the walks.</p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void askPlan(asked);
        }}
      >
        <ForecastForm />
        <fieldset>
          <legend>Where, and what it is worth</legend>
          {sites.length > 1 && (
            <label>
              At{' '}
              <select
                value={String(place)}
                onChange={({ currentTarget }) => set({ site: Number(currentTarget.value) })}
              >
                {sites.map(({ site }, i) => (
                  <option key={site ?? ''} value={String(i)}>
                    {site ?? 'no site named'}
                  </option>
                ))}
              </select>
            </label>
          )}
          <WishRows />
          {wish.value.kind === 'photos' && (
            <p class="note">
              Every hour keeps its share of these, as far as the recordings tell. What a visit is worth counts
              against walks alone.
            </p>
          )}
          <NumberField
            label="photos of nothing are as bad as a walk to the camera"
            value={now.walk}
            least={0}
            most={MOST_ALLOWED}
            fraction
            onChange={(walk) => set({ walk })}
          />
          <p class="row">
            I walk there between
            <NumberField
              label="o’clock and"
              value={now.from}
              least={0}
              most={24}
              onChange={(from) => set({ from })}
            />
            <NumberField
              label="o’clock"
              value={now.until}
              least={0}
              most={24}
              onChange={(until) => set({ until })}
            />
          </p>
          <label>
            I use now{' '}
            <select
              value={usedNow.value}
              onChange={({ currentTarget }) => {
                usedNow.value = currentTarget.value as typeof usedNow.value;
              }}
            >
              <option value="">nothing yet</option>
              <option value="dials">the dials as they stand here</option>
              {(workspace.value?.settings ?? []).map(({ name }) => (
                <option key={name} value={`file ${name}`}>
                  {name}.json
                </option>
              ))}
            </select>
          </label>
          <label>
            <input
              type="checkbox"
              checked={!now.recordedOnly}
              onChange={({ currentTarget }) => set({ recordedOnly: !currentTarget.checked })}
            />{' '}
            Simulate weather that nobody recorded (takes longer)
          </label>
        </fieldset>
        <p class="row">
          <button type="submit" class="main" disabled={!isReady || planning.value.kind === 'working'}>
            Work it out
          </button>
          <span class="note">
            {group.labelled.length === 0
              ? 'No clip here is labelled yet: mark visits first.'
              : `By ${plural(group.labelled.length, 'labelled clip')}.`}
          </span>
        </p>
        {group.labelled.length === 0 && <LabelFirst of={toLabel(group)} />}
      </form>
      <State asked={JSON.stringify(asked)} />
    </section>
  );
}

function askedOf({ labelled }: SiteClips, now: Form): PlanAsked {
  const { kind, worth, photosPerDay, hoursOut } = wish.value;
  return {
    clips: labelled.map(({ id }) => id),
    forecast: now.file ?? { name: 'the forecast', text: csvOf(now.typed) },
    worth,
    allowance: kind === 'photos' ? { photosPerDay, hoursOut } : null,
    walk: now.walk,
    awake: { from: now.from, until: now.until },
    recordedOnly: now.recordedOnly,
    inUse: inUse(),
  };
}

function inUse(): SettingsFile | null {
  if (usedNow.value === 'dials') return { version: 1, controls: controls.value };
  const name = usedNow.value.slice('file '.length);
  return workspace.value?.settings.find((file) => file.name === name)?.settings ?? null;
}

function State({ asked }: { asked: string }) {
  const now = planning.value;
  switch (now.kind) {
    case 'none':
      return null;
    case 'working':
      return <Working phase={now.phase} share={now.share} onStop={stopPlanning} />;
    case 'stopped':
      return <p role="status">Stopped. What was read is kept, so that asking again is quicker.</p>;
    case 'refused':
      return (
        <p class="trouble" role="alert">
          {now.why}
        </p>
      );
    case 'planned':
      return (
        <>
          {now.asked !== null && now.asked !== asked && (
            <p class="trouble" role="status">
              What is asked has been changed since: work it out again.
            </p>
          )}
          <PlanTold planned={now.planned} />
        </>
      );
  }
}
