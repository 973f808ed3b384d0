import { DamagedEvidence, type EvidenceStore } from '../store/evidence-store.js';
import type { ColumnSource } from '../sweep/columns.js';

/** How often one track's evidence is made again on disk before it is held in memory. */
const MOST_REPAIRS = 1;

/**
 * Evidence that is measured again when it is found damaged; where even that does not last, for somebody keeps emptying the
 * cache, it is held in memory. Callers that meet the same damage at once wait for one repair.
 * @param again measures the track from nothing
 * @param hold the same, in memory
 */
export function repairing(
  kept: EvidenceStore,
  again: () => Promise<void>,
  hold: () => Promise<EvidenceStore>,
): ColumnSource {
  let store = kept;
  let repairs = 0;
  let repair: Promise<void> | null = null;
  const mend = async () => {
    repairs++;
    if (repairs <= MOST_REPAIRS) await again();
    else store = await hold();
  };
  const repaired = async <T>(read: (from: EvidenceStore) => Promise<T>): Promise<T> => {
    try {
      return await read(store);
    } catch (error) {
      if (!(error instanceof DamagedEvidence)) throw error;
      repair ??= mend().finally(() => {
        repair = null;
      });
      await repair;
      return repaired(read);
    }
  };
  return {
    columns: (levels, kind) => repaired((from) => from.columns(levels, kind)),
    bothColumns: (levels) => repaired((from) => from.bothColumns(levels)),
  };
}
