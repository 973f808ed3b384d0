import { Clips } from './parts/clips.js';
import { FolderProblems } from './parts/folder-problems.js';
import { Gone } from './parts/gone.js';
import { KeyList } from './parts/key-list.js';
import { Asked, Saved } from './parts/saved.js';
import { Trouble } from './parts/trouble.js';
import { show } from './state/shown.js';
import { shown, views } from './views/views.js';

/** The whole page: the clips at hand, what can be done with one, and the one thing that is being done. */
export function App() {
  const { View } = shown.value;
  return (
    <>
      <a class="skip" href="#view">
        To the page
      </a>
      <header class="top">
        <h1>Perchmark</h1>
        <nav aria-label="What to do">
          {views.map((view) => (
            <button
              type="button"
              key={view.id}
              aria-current={view === shown.value ? 'page' : undefined}
              onClick={() => show(view.id)}
            >
              {view.title}
            </button>
          ))}
        </nav>
        <Saved />
        <KeyList />
      </header>
      <Gone />
      <Trouble />
      <FolderProblems />
      <Asked />
      <div class="desk">
        <Clips />
        <main id="view" tabIndex={-1}>
          <View />
        </main>
      </div>
    </>
  );
}
