import { render } from 'preact';
import { App } from './app.js';
import './style/base.css';
import { loadWorkspace } from './state/workspace.js';

render(<App />, document.getElementById('page')!);
void loadWorkspace();
