import { render } from 'preact';
import { App } from './app.js';
import { watchOver } from './link/alive.js';
import './style/base.css';
import { openClip } from './state/clip.js';
import { watchLabels } from './state/labels.js';
import { show, shownId } from './state/shown.js';
import { loadWorkspace, workspace } from './state/workspace.js';

render(<App />, document.getElementById('page')!);
watchLabels();
watchOver();
await loadWorkspace();
const first = workspace.value?.clips.find(({ problem }) => problem === null);
if (first) void openClip(first.id);
// Unless the owner went elsewhere meanwhile.
else if (workspace.value && shownId.value === 'label') show('bring-in');
