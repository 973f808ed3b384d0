import { Problem } from '../base/problem.js';

/**
 * Other frames of a video decode than its container promises. That is noted, and from now on its frames are found by decoding
 * all of it: what was asked may be asked again.
 */
export class Recounted extends Problem {
  constructor(
    /** What is the matter. */
    readonly found: string,
  ) {
    super(
      'bad-video',
      `${found}; that is noted: give the same command again, and its frames are found by decoding all of it`,
    );
  }
}
