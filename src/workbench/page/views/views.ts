import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { AnswerView } from './answer/answer-view.js';
import { DialsView } from './dials/dials-view.js';
import { LabelView } from './label/label-view.js';

/** One thing that can be done on the page. */
export interface View {
  id: string;
  title: string;
  View: ComponentType;
}

/** In the order in which an owner comes to them. */
export const views: readonly View[] = [
  { id: 'label', title: 'Look and label', View: LabelView },
  { id: 'dials', title: 'Dials', View: DialsView },
  { id: 'answer', title: 'Answer', View: AnswerView },
];

export const shown = signal<View>(views[0]!);
