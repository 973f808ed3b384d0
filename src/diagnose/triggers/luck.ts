import { Pieces } from '../../engine/pieces.js';
import { changedPixels } from '../../engine/region.js';
import { withinBox } from '../../score/box.js';
import { indexOf } from '../../score/stretch-index.js';
import type { Box } from '../diagnosis.js';
import type { ReplayedClip } from '../replayed-clip.js';

/**
 * Finds the visits that were caught by luck: each time the camera fired for them, nothing within their box had changed
 * enough by itself, so something else fired it, a branch say, while the animal was there. Told only of visits whose
 * labels give a box, from the very frames that fired.
 */
export class LuckCounter {
  /** For each visit with a box that a trigger shows, whether any of these fired by what was in it. */
  private readonly ownDoing = new Map<number, boolean>();

  constructor(
    private readonly replayed: Pick<ReplayedClip, 'clip' | 'judged' | 'camera' | 'settings' | 'level'>,
    private readonly boxOf: (visit: number) => Box | null,
  ) {}

  /** @param difference of the frame that fired */
  add(trigger: number, difference: Uint8Array): void {
    const { triggers, visits } = this.replayed.judged;
    const photos = triggers[trigger]?.photos ?? [];
    for (const visit of new Set(photos.flatMap((photo) => indexOf(visits).at(photo)))) {
      const box = this.boxOf(visit);
      if (!box) continue;
      this.ownDoing.set(visit, this.ownDoing.get(visit) === true || this.firesWithin(box, difference));
    }
  }

  /** Visits by their places, rising. */
  get byLuck(): number[] {
    return [...this.ownDoing].flatMap(([visit, own]) => (own ? [] : [visit])).sort((a, b) => a - b);
  }

  private firesWithin(box: Box, difference: Uint8Array): boolean {
    const { camera, settings, level } = this.replayed;
    const { width, height } = camera.analysis;
    const { left, right, top, bottom } = withinBox(box, width, height);
    const within = difference.slice();
    for (let row = 0, i = 0; row < height; row++) {
      for (let column = 0; column < width; column++, i++) {
        if (row < top || row >= bottom || column < left || column >= right) within[i] = 0;
      }
    }
    const area =
      camera.area === 'changed'
        ? changedPixels(within, level)
        : Pieces.of(width, height).largest(within, level);
    return area >= settings.minimumArea;
  }
}
