import type { Labels } from '../../../score/labels.js';
import type { EvidenceColumns } from '../../protocol.js';
import { boxedOf } from './boxed.js';
import { columnsFrom } from './columns.js';
import { type WithinColumns, withinFrom } from './within.js';

/** Whose evidence: that under the mask of the dials, or that under the mask of what they are held against. */
export type Slot = 'dials' | 'kept';

/** A clip's evidence under one mask. */
export class Held {
  readonly evidence: EvidenceColumns;
  private within: { of: string; columns: WithinColumns } | null = null;

  /** @param bytes as the server gives them */
  constructor(bytes: ArrayBuffer) {
    this.evidence = columnsFrom(bytes);
  }

  /** @param of the visits and boxes that it was measured for: see `boxedOf` */
  takeWithin(of: string, bytes: ArrayBuffer): void {
    this.within = { of, columns: withinFrom(bytes) };
  }

  /** How much changed within the boxes of these labels; null where that is not known, or there are none. */
  withinOf(labels: Labels | null): WithinColumns | null {
    return labels && this.within && this.within.of === boxedOf(labels) ? this.within.columns : null;
  }
}
