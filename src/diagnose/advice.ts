import type { CauseName, ExplainedTrigger } from './diagnosis.js';
import { byCause } from './triggers/by-cause.js';

/** What can be done about a cause at the camera itself: common practice, nothing that was measured. */
export interface Advice {
  cause: CauseName;
  /** Sentences. */
  practice: readonly string[];
  /** What to mind while doing so; sentences. */
  care: readonly string[];
}

/** A cause is worth advice from this share of the triggers, or this many of them. */
const [LEAST_SHARE, LEAST_TIMES] = [0.1, 3];

/** Advice for the causes that make up a real share of what was fired at, the commonest first. */
export function adviceFor(explained: readonly ExplainedTrigger[]): Advice[] {
  return byCause(explained)
    .filter(({ triggers, share }) => share.value >= LEAST_SHARE || triggers.length >= LEAST_TIMES)
    .flatMap(({ cause }) => (cause === 'visit' ? [] : [{ cause, ...known[cause] }]));
}

const nesting =
  'Cut and tie nothing where birds may be nesting, leave hedges alone in the nesting season, and ask first where local rules protect a plant or a place.';
const ladder = 'On a ladder: someone to foot it, and never in wind or wet.';
const people =
  'See that the new view holds no path, street or neighbour’s ground: it would film people, and local rules may forbid that.';
const power =
  'Power and batteries outdoors must stay dry and cool: mains is work for an electrician, and a lithium battery bears neither wet nor a closed box in the sun.';
const light =
  'A lamp disturbs animals: none at a nest or a roost, and none that shines where people live or drive.';

const known: Record<CauseName, Omit<Advice, 'cause'>> = {
  wind: {
    practice: [
      'Move or tie back what sways, or move the camera so that it is out of view.',
      'Look from another side: twigs close to the lens move the most pixels, so let nothing grow within an arm’s length of it.',
    ],
    care: [nesting, ladder],
  },
  rain: {
    practice: [
      'Give the lens a cover that stands well forward and has a drip edge, so that no drop hangs before it.',
      'Move back from leaves and ledges that drops strike.',
    ],
    care: [power],
  },
  light: {
    practice: [
      'Turn the camera away from the low sun, and shade the lens with a small hood.',
      'Choose a view with little sky and little glitter of water in it.',
    ],
    care: [people],
  },
  shadow: {
    practice: [
      'Turn the camera away from what throws the shadow into view: a path, a branch, a line of washing.',
      'Choose a spot that lies in shade at the hours that matter: a low sun throws the longest shadows.',
    ],
    care: [people],
  },
  noise: {
    practice: [
      'Raise the threshold from dusk on: use a group of settings of its own for low light.',
      'Choose a brighter spot, or let the camera rest when it is too dark for a photo to show anything.',
    ],
    care: [light],
  },
  insect: {
    practice: [
      'Keep lamps away from the lens, infrared ones too: they draw insects, so light from beside rather than from the camera.',
      'Wipe webs off the lens and its box before dusk, and shield the lens with a short tube that gives a web nowhere to hang in view.',
    ],
    care: ['Visit seldom and briefly: birds may desert a nest close by.', light],
  },
  shake: {
    practice: [
      'Fix the mount to what does not move: a wall, a post driven in, a thick trunk low down; not a thin trunk or a branch.',
      'Guy a tall post with cords on three sides, tighten every joint, and leave the cable slack so that it cannot tug.',
    ],
    care: [ladder],
  },
  unknown: {
    practice: [
      'Look at the pictures of these in the report: the eye often knows at once what moved.',
      'Where it is an animal that the labels leave out, label it and diagnose again.',
    ],
    care: [],
  },
};
