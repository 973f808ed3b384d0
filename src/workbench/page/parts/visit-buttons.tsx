import { useSignal } from '@preact/signals';
import { clock } from '../../../words/wording.js';
import './parts.css';

/** So many are shown at once: an hour may miss a hundred, and what stands below would be out of sight. */
const FIRST = 8;

/** Visits by name and time; pressing one goes there. */
export function VisitButtons<V extends { start: number; name: string }>({
  what,
  visits,
  onGo,
}: {
  what: string;
  visits: readonly V[];
  onGo: (visit: V) => void;
}) {
  const all = useSignal(false);
  if (visits.length === 0) return null;
  const shown = all.value ? visits : visits.slice(0, FIRST);
  return (
    <div class="visit-buttons">
      <span>{what}</span>
      <ul>
        {shown.map((visit, i) => (
          <li key={`${visit.start} ${i}`}>
            <button type="button" class="small" onClick={() => onGo(visit)}>
              {visit.name} at {clock(visit.start)}
            </button>
          </li>
        ))}
        {visits.length > FIRST && (
          <li>
            <button
              type="button"
              class="small"
              aria-expanded={all.value}
              onClick={() => {
                all.value = !all.value;
              }}
            >
              {all.value ? 'fewer' : `and ${visits.length - FIRST} more`}
            </button>
          </li>
        )}
      </ul>
    </div>
  );
}
