import { coarseNotes } from '../../../camera/coarse.js';
import { clip } from '../state/clip.js';
import { workspace } from '../state/workspace.js';

/** What the open clip lacks, so that figures from it are not taken for more than they are. */
export function ClipNotes() {
  const [open, camera] = [clip.value, workspace.value?.camera];
  if (!open || !camera) return null;
  const lines = [...open.warnings, ...coarseNotes(open, camera).map((line) => `${open.name}: ${line}`)];
  if (lines.length === 0) return null;
  return (
    <ul class="clip-notes" aria-label={`What to know of ${open.name}`}>
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
