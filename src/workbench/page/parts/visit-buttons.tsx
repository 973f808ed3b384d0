import { clock } from '../../../words/wording.js';
import './parts.css';

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
  if (visits.length === 0) return null;
  return (
    <div class="visit-buttons">
      <span>{what}</span>
      <ul>
        {visits.map((visit, i) => (
          <li key={`${visit.start} ${i}`}>
            <button type="button" class="small" onClick={() => onGo(visit)}>
              {visit.name} at {clock(visit.start)}
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}
