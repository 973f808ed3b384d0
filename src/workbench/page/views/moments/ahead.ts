import { useEffect, useRef, useState } from 'preact/hooks';
import type { Moment } from '../../../../tune/moments/find.js';
import type { clip } from '../../state/clip.js';
import { asked } from './asked.js';
import { boxesGround, boxOf, wantBoxes } from './boxes.js';
import type { Cell } from './cells.js';
import { momentAddress } from './moment-picture.js';
import { nextSheet } from './sheet.js';

const NONE: readonly Moment[] = [];

/**
 * Gets the pictures of the next sheet while this one is looked at: once all of this one are there, and once for each sheet,
 * because a recording is read through for each request while each answer changes the order of what comes next.
 */
export function useAhead(
  open: NonNullable<typeof clip.value> | null,
  shown: readonly Cell[],
  moments: readonly Moment[],
): void {
  const [ahead, setAhead] = useState(NONE);
  const askedFor = useRef<readonly Cell[] | null>(null);
  const ground = boxesGround.value;
  const all = moments.length > 0 && moments.every((moment) => boxOf(moment) !== undefined);
  const id = open?.id;
  useEffect(() => {
    if (id === undefined || !all || askedFor.current === shown) return;
    askedFor.current = shown;
    const next = nextSheet().flatMap((cell) => cell.flatMap((member) => asked.peek()?.moments[member] ?? []));
    setAhead(next);
    void wantBoxes(id, next);
  }, [id, shown, all, ground]);
  const got = useRef(new Set<string>());
  const known = ahead.filter((moment) => boxOf(moment) !== undefined).length;
  useEffect(() => {
    if (!open) return;
    for (const moment of ahead) {
      const box = boxOf(moment);
      if (box === undefined) continue;
      const address = momentAddress(open, moment, box);
      if (got.current.has(address)) continue;
      got.current.add(address);
      // The browser keeps it: see `pictureAddress`.
      new Image().src = address;
    }
  }, [open, ahead, known]);
}
