import { type Presence, presence } from '../link/alive.js';

const SAID: Readonly<Record<Presence, string | null>> = {
  here: null,
  busy: 'The program is busy and takes its time to answer: do not start it again. What you change meanwhile is kept, and saved as soon as it answers.',
  ended:
    'The program has ended: start it again as before, and this page goes on. What you change meanwhile is kept in the browser.',
  moved:
    'The program was started again and has another address: open the one that it printed. Nothing that was saved is lost, and what was not yet is kept in this browser.',
  back: 'The program is back.',
};

/** Says when the program behind the page is busy, when it is gone, and when it is back. */
export function Gone() {
  const said = SAID[presence.value];
  return <div role="status">{said !== null && <p class="trouble">{said}</p>}</div>;
}
