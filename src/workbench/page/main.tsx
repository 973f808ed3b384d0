import { render } from 'preact';
import { App } from './app.js';
import { watchOver } from './link/alive.js';
import './style/base.css';
import { keepAddress } from './state/address.js';
import { watchLabels } from './state/labels.js';
import { begin, watchForReturn } from './state/return.js';
import { views } from './views/views.js';

render(<App />, document.getElementById('page')!);
watchLabels();
watchOver();
watchForReturn();
keepAddress(views.map(({ id }) => id));
await begin();
