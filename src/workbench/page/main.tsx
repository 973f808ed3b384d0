import { render } from 'preact';
import { App } from './app.js';
import './style/base.css';
import { watchLabels } from './state/labels.js';
import { loadWorkspace } from './state/workspace.js';

render(<App />, document.getElementById('page')!);
watchLabels();
void loadWorkspace();
