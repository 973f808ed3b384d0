import { effect, signal } from '@preact/signals';
import { engine } from '../worker/bridge.js';
import type { FrontPoint } from '../worker/front.js';
import { NewestOnly } from '../worker/newest.js';
import { type Ground, ground } from './replays.js';

/** What no other settings beat on the open clip. */
export type FrontFound =
  | { kind: 'none' }
  | { kind: 'working' }
  | { kind: 'unlabelled' }
  | { kind: 'cannot'; why: string }
  /** From the fewest photos of nothing on. */
  | { kind: 'found'; searched: number; points: FrontPoint[] };

export const frontFound = signal<FrontFound>({ kind: 'none' });

const asking = new NewestOnly(({ camera, said, open }: Ground) =>
  engine().front(camera, said!, open.seconds),
);

/**
 * Works it out anew with everything that it follows from, for as long as somebody looks.
 * @returns call it when nobody does any more
 */
export function followFront(): () => void {
  return effect(() => {
    const on = ground.value;
    if (!on || on.said === null) {
      frontFound.value = { kind: on ? 'unlabelled' : 'none' };
      return;
    }
    if (frontFound.peek().kind !== 'found') frontFound.value = { kind: 'working' };
    const still = () => ground.peek() === on;
    asking.answer(on).then(
      (found) => {
        if (!found || !still()) return;
        frontFound.value = { kind: 'found', searched: found.searched, points: found.points.toReversed() };
      },
      (error: Error) => {
        if (still()) frontFound.value = { kind: 'cannot', why: error.message };
      },
    );
  });
}
