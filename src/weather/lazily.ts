import type { Effect } from './setup.js';

/** An effect that is made when the first frame comes, for much is drawn and worked out for it that may not be wanted. */
export function lazily(make: () => Effect): Effect {
  let made: Effect | null = null;
  return {
    apply(picture, time, recorded) {
      made ??= make();
      made.apply(picture, time, recorded);
    },
  };
}
