import { type Signal, useSignal } from '@preact/signals';
import type { Saved } from '../../answer-protocol.js';
import './parts.css';

/** How saving stands. */
export type SavingNow =
  | { kind: 'none' | 'working' }
  | { kind: 'saved'; saved: Saved }
  | { kind: 'there'; names: string[] }
  | { kind: 'refused'; why: string };

export interface Saving {
  now: Signal<SavingNow>;
  save: (replace: boolean) => Promise<void>;
  forget: () => void;
}

/** Saves something; what is there already is replaced only when the owner says so. */
export function useSaving(act: (replace: boolean) => Promise<Saved>): Saving {
  const now = useSignal<SavingNow>({ kind: 'none' });
  return {
    now,
    async save(replace) {
      now.value = { kind: 'working' };
      try {
        const saved = await act(replace);
        now.value = saved.there.length > 0 ? { kind: 'there', names: saved.there } : { kind: 'saved', saved };
      } catch (error) {
        now.value = { kind: 'refused', why: (error as Error).message };
      }
    },
    forget() {
      now.value = { kind: 'none' };
    },
  };
}

/** What came of it. */
export function SaidOfSaving({ of: { now, save, forget } }: { of: Saving }) {
  const said = now.value;
  return (
    <div class="came-of-it" role="status">
      {said.kind === 'working' && <p class="note">saving</p>}
      {said.kind === 'saved' && (
        <p class="note">
          Saved in {said.saved.folder}: {said.saved.files.join(', ')}
        </p>
      )}
      {said.kind === 'refused' && <p class="trouble">{said.why}</p>}
      {said.kind === 'there' && (
        <p class="trouble">
          {said.names.join(', ')} {said.names.length === 1 ? 'is' : 'are'} there already.{' '}
          <button type="button" onClick={() => void save(true)}>
            Replace {said.names.length === 1 ? 'it' : 'them'}
          </button>{' '}
          <button type="button" onClick={forget}>
            Leave {said.names.length === 1 ? 'it' : 'them'}
          </button>
        </p>
      )}
    </div>
  );
}
