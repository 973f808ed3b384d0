import { computed, signal } from '@preact/signals';
import type { Camera } from '../../../../camera/description.js';
import type { SettingsFile } from '../../../../camera/settings.js';
import { plural } from '../../../../words/wording.js';
import { LabelFirst } from '../../parts/label-first.js';
import { WishRows } from '../../parts/wish-rows.js';
import { asking, askWhatToUse, wantedOf, wish } from '../../state/answer.js';
import { clip } from '../../state/clip.js';
import { clipsNow } from '../../state/clips-now.js';
import { controls } from '../../state/settings.js';
import { workspace } from '../../state/workspace.js';
import { clipsBySite, toLabel } from './clips-of-site.js';

/** The site that is asked about where it is not that of the open clip, by its place in the list. */
const siteAsked = signal<number | null>(null);
/** Clips that are not to count. */
const unticked = signal<ReadonlySet<string>>(new Set());
/** What is used now: null, the dials as they stand, or a settings file. */
const usedNow = signal<'' | 'dials' | `file ${string}`>('');
const recordedOnly = signal(false);

const sites = computed(() => clipsBySite(clipsNow.value, workspace.value?.folder === null));
const sitePlace = computed(() => {
  if (siteAsked.value !== null && siteAsked.value < sites.value.length) return siteAsked.value;
  const open = clip.value;
  const here = open ? sites.value.findIndex(({ site }) => site === open.site) : -1;
  return Math.max(0, here);
});

/** What the owner wants, said in plain words. */
export function WishForm({ camera }: { camera: Camera }) {
  const group = sites.value[sitePlace.value];
  if (!group) return <p>There is no clip in this folder yet: bring a recording in first.</p>;
  const ticked = group.labelled.filter(({ id }) => !unticked.value.has(id));
  return (
    <form
      class="wish"
      onSubmit={(event) => {
        event.preventDefault();
        void askWhatToUse({
          clips: ticked.map(({ id }) => id),
          wanted: wantedOf(wish.value),
          hoursOut: wish.value.hoursOut,
          now: nowOf(),
          recordedOnly: recordedOnly.value,
        });
      }}
    >
      <Wanted />
      <fieldset>
        <legend>Over which clips</legend>
        {sites.value.length > 1 && (
          <label>
            At{' '}
            <select
              value={String(sitePlace.value)}
              onChange={(event) => {
                siteAsked.value = Number(event.currentTarget.value);
              }}
            >
              {sites.value.map(({ site }, i) => (
                <option key={site ?? ''} value={String(i)}>
                  {site ?? 'no site named'}
                </option>
              ))}
            </select>
          </label>
        )}
        {group.labelled.map(({ id, name, visits }) => (
          <label key={id}>
            <input
              type="checkbox"
              checked={!unticked.value.has(id)}
              onChange={(event) => {
                const next = new Set(unticked.value);
                if (event.currentTarget.checked) next.delete(id);
                else next.add(id);
                unticked.value = next;
              }}
            />{' '}
            {name}{' '}
            <span class="note">{visits === null ? 'labels drawn with it' : plural(visits, 'visit')}</span>
          </label>
        ))}
        {group.left.map(({ name, why }) => (
          <p key={name} class="note">
            {name}: {why}
          </p>
        ))}
      </fieldset>
      <fieldset>
        <legend>Against what</legend>
        <label>
          I use now{' '}
          <select
            value={usedNow.value}
            onChange={(event) => {
              usedNow.value = event.currentTarget.value as typeof usedNow.value;
            }}
          >
            <option value="">nothing yet: hold it against the middle</option>
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
            checked={!recordedOnly.value}
            onChange={(event) => {
              recordedOnly.value = !event.currentTarget.checked;
            }}
          />{' '}
          Simulate weather that nobody recorded (takes longer)
        </label>
      </fieldset>
      <p>
        <button type="submit" class="main" disabled={ticked.length === 0 || asking.value.kind === 'working'}>
          Work it out
        </button>{' '}
        <span class="note">
          {ticked.length === 0
            ? group.labelled.length === 0
              ? 'No clip of this spot is labelled yet: mark visits first.'
              : 'Tick a clip with labels.'
            : `For the ${camera.name}, over ${plural(ticked.length, 'clip')}.`}
        </span>
      </p>
      {group.labelled.length === 0 && <LabelFirst of={toLabel(group)} />}
    </form>
  );
}

function nowOf(): SettingsFile | null {
  if (usedNow.value === 'dials') return { version: 1, controls: controls.value };
  const name = usedNow.value.slice('file '.length);
  return workspace.value?.settings.find((file) => file.name === name)?.settings ?? null;
}

function Wanted() {
  const { kind, sure } = wish.value;
  return (
    <fieldset>
      <legend>What I want</legend>
      <WishRows />
      {kind === 'photos' && (
        <label class="sure">
          Kept{' '}
          <select
            value={String(sure ?? '')}
            onChange={({ currentTarget: { value } }) => {
              wish.value = { ...wish.value, sure: value === '' ? null : Number(value) };
            }}
          >
            <option value="">on these clips</option>
            <option value="0.8">four days in five</option>
            <option value="0.9">nine days in ten</option>
            <option value="0.95">nineteen days in twenty</option>
          </select>
        </label>
      )}
    </fieldset>
  );
}
