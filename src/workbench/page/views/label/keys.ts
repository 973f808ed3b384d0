import type { Key } from '../../parts/keys.js';
import { widen } from '../../parts/strip/zoom.js';
import { chosen } from '../../state/chosen.js';
import { clip, showTime, time } from '../../state/clip.js';
import { redo, undo } from '../../state/labels.js';
import { faster } from '../../state/play.js';
import {
  enter,
  framing,
  goToNeighbour,
  mark,
  nudge,
  playOrStop,
  removeChosen,
  setHere,
  stepLooking,
} from './actions.js';
import { goToStir } from './stirs.js';

/** Seconds of a longer step. */
const LONGER = 5;

export const lookingKeys: readonly Key[] = [
  { key: 'p', what: 'play, or stop', act: playOrStop },
  { key: 'f', what: 'faster', act: () => faster(1) },
  { key: 's', what: 'slower', act: () => faster(-1) },
  { key: 'ArrowRight', steps: true, what: 'a frame on', act: () => stepLooking(1) },
  { key: 'ArrowLeft', steps: true, what: 'a frame back', act: () => stepLooking(-1) },
  {
    key: 'ArrowRight',
    shift: true,
    steps: true,
    what: 'five seconds on',
    act: () => showTime(time.value + LONGER),
  },
  {
    key: 'ArrowLeft',
    shift: true,
    steps: true,
    what: 'five seconds back',
    act: () => showTime(time.value - LONGER),
  },
  { key: 'Home', what: 'to the first frame', act: () => showTime(0) },
  { key: 'End', what: 'to the last frame', act: () => showTime(clip.value?.seconds ?? 0) },
  { key: 'g', steps: true, what: 'to the next moment that stirs and nobody has looked at', act: goToStir },
  { key: 'n', steps: true, what: 'to the next visit', act: () => goToNeighbour(1) },
  { key: 'b', steps: true, what: 'to the visit before', act: () => goToNeighbour(-1) },
  { key: 'z', what: 'the lower strip: nearer', act: () => widen(0.5) },
  { key: 'z', shift: true, what: 'the lower strip: further', act: () => widen(2) },
];

export const markingKeys: readonly Key[] = [
  { key: 'v', what: 'a visit begins here, or ends here', act: () => mark('visits') },
  { key: 'x', what: 'what is to be ignored begins here, or ends here', act: () => mark('ignored') },
  { key: 'l', what: 'what was looked through begins here, or ends here', act: () => mark('reviewed') },
  { key: 'z', ctrl: true, what: 'undo', act: undo },
  { key: 'z', ctrl: true, shift: true, what: 'redo', act: redo },
];

export const chosenKeys: readonly Key[] = [
  { key: 'q', steps: true, what: 'its start a frame earlier', act: () => nudge('start', -1) },
  { key: 'w', steps: true, what: 'its start a frame later', act: () => nudge('start', 1) },
  { key: 'e', steps: true, what: 'its end a frame earlier', act: () => nudge('end', -1) },
  { key: 'r', steps: true, what: 'its end a frame later', act: () => nudge('end', 1) },
  { key: 'w', shift: true, what: 'its start to this frame', act: () => setHere('start') },
  { key: 'e', shift: true, steps: true, what: 'its end to this frame', act: () => setHere('end') },
  { key: 't', what: 'who came', act: () => enter('visit-type') },
  { key: 'm', what: 'its name, or why it is ignored', act: () => enter('chosen-name') },
  { key: 'c', what: 'how many came', act: () => enter('visit-count') },
  {
    key: 'o',
    what: 'frame where it is',
    act: () => {
      if (chosen.value?.kind === 'visits') framing.value = !framing.value;
    },
  },
  { key: 'Delete', what: 'delete it', act: removeChosen },
];
