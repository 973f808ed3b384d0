import { saysNothing } from '../../../../score/says-nothing.js';
import { ClipNotes } from '../../parts/clip-notes.js';
import { FramePicture } from '../../parts/frame-picture.js';
import { useKeys } from '../../parts/keys.js';
import { Strip } from '../../parts/strip/strip.js';
import { clip } from '../../state/clip.js';
import { labels } from '../../state/labels.js';
import { AboutClip } from './about-clip.js';
import { Begun } from './begun.js';
import { BoxLayer } from './box-layer.js';
import { chosenKeys, lookingKeys, markingKeys } from './keys.js';
import './label.css';
import { MarkBar } from './mark-bar.js';
import { overview } from './overview.js';
import { PlayBar } from './play-bar.js';
import { Stirs } from './stirs.js';
import { StretchForm } from './stretch-form.js';
import { Stretches } from './stretches.js';

/** Look through a clip, and mark when somebody was in view. */
export function LabelView() {
  useKeys('Looking', lookingKeys);
  useKeys('Marking', markingKeys);
  useKeys('The chosen visit or stretch', chosenKeys);
  const open = clip.value;
  if (!open) return <p>Choose a clip.</p>;
  return (
    <section class="labelling">
      <h2>{open.name}</h2>
      <p class="overview">
        {!saysNothing(labels.value)
          ? overview(labels.value, open.seconds)
          : 'Nothing is labelled yet: play the clip, and say “A visit begins here” (or press v) when somebody comes, and once more when they go. Moments shows a long one quicker, as pictures to tick.'}
      </p>
      <ClipNotes />
      <div class="sides">
        <div>
          <FramePicture>
            <BoxLayer />
          </FramePicture>
          <PlayBar />
        </div>
        <Strip />
        <div class="side">
          <MarkBar />
          <Begun />
          <StretchForm />
          <Stirs />
        </div>
      </div>
      <Stretches />
      <AboutClip />
    </section>
  );
}
