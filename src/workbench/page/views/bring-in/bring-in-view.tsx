import { workspace } from '../../state/workspace.js';
import './bring-in.css';
import { Choose } from './choose.js';
import { Describe } from './describe.js';
import { Going, Made } from './outcome.js';
import { stage } from './stage.js';

/** A recording from elsewhere on this machine becomes a clip of the opened folder. */
export function BringInView() {
  const now = stage.value;
  if (workspace.value?.folder === null) {
    return (
      <section class="bring-in">
        <h2>Bring in a recording</h2>
        <p>
          These are the clips of the demo. For recordings of your own, make a folder for them and start the
          program with its name:
        </p>
        <pre>npx perchmark open my-garden</pre>
        <p class="note">
          Then this page takes a video, or a folder of pictures, and makes a clip of it there.
        </p>
      </section>
    );
  }
  return (
    <section class="bring-in">
      <h2>Bring in a recording</h2>
      {now.kind === 'choose' && <Choose why={now.why} />}
      {now.kind === 'describe' && <Describe {...now} />}
      {now.kind === 'going' && <Going what={now.what} share={now.share} name={now.name} />}
      {now.kind === 'made' && <Made {...now} />}
    </section>
  );
}
