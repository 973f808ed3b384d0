import { workspace } from '../state/workspace.js';

/** What is wrong with the opened folder itself. */
export function FolderProblems() {
  const problems = workspace.value?.problems ?? [];
  if (problems.length === 0) return null;
  return (
    <section class="trouble" aria-label="What is wrong with the folder">
      {problems.map((problem) => (
        <p key={problem}>{problem}</p>
      ))}
    </section>
  );
}
