import { recommendedHere } from '../../state/answer.js';
import { type KeptFrom, keptFrom } from '../../state/kept.js';
import { workspace } from '../../state/workspace.js';

/** What the dials are held against: chosen from what there is. */
export function KeptChoice() {
  const from = keptFrom.value;
  const files = workspace.value?.settings ?? [];
  const value = from.kind === 'file' ? `file ${from.name}` : from.kind;
  return (
    <label>
      <span class="out-of-sight">Hold the dials against</span>
      <select
        value={value}
        onChange={(event) => {
          keptFrom.value = chosen(event.currentTarget.value, from);
        }}
      >
        <option value="middle">every dial at its middle</option>
        {from.kind === 'dials' && <option value="dials">the dials as you kept them</option>}
        {(recommendedHere.value || from.kind === 'recommended') && (
          <option value="recommended">what is recommended</option>
        )}
        {files.map(({ name }) => (
          <option key={name} value={`file ${name}`}>
            {name}.json
          </option>
        ))}
      </select>
    </label>
  );
}

function chosen(value: string, before: KeptFrom): KeptFrom {
  if (value.startsWith('file ')) return { kind: 'file', name: value.slice('file '.length) };
  if (value === 'dials') return before;
  return { kind: value === 'recommended' ? 'recommended' : 'middle' };
}
