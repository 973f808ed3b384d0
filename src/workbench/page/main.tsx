import { render } from 'preact';
import { App } from './app.js';
import { watchOver } from './link/alive.js';
import './style/base.css';
import { watchLabels } from './state/labels.js';
import { begin, watchForReturn } from './state/return.js';

render(<App />, document.getElementById('page')!);
watchLabels();
watchOver();
watchForReturn();
await begin();
