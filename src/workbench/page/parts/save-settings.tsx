import { useSignal } from '@preact/signals';
import type { SettingsFile } from '../../../camera/settings.js';
import { saveSettings } from '../state/answer.js';
import { SaidOfSaving, useSaving } from './saving.js';
import './parts.css';

/** Saves settings into the opened folder under a name that the owner gives. */
export function SaveSettings({ settings, id }: { settings: SettingsFile; id: string }) {
  const name = useSignal('');
  const saving = useSaving((replace) => saveSettings(name.value.trim(), settings, replace));
  return (
    <form
      class="save-as"
      onSubmit={(event) => {
        event.preventDefault();
        void saving.save(false);
      }}
    >
      <label for={id}>Save these settings as</label>
      <input
        id={id}
        type="text"
        required
        maxLength={60}
        autoComplete="off"
        value={name.value}
        onInput={(event) => {
          name.value = event.currentTarget.value;
          saving.forget();
        }}
      />
      <button type="submit">Save</button>
      <SaidOfSaving of={saving} />
    </form>
  );
}
