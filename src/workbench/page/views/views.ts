import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { LabelView } from './label/label-view.js';
import { MomentsView } from './moments/moments-view.js';

/** One thing that can be done on the page. */
export interface View {
  id: string;
  title: string;
  View: ComponentType;
}

/** In the order in which an owner comes to them. */
export const views: readonly View[] = [
  { id: 'label', title: 'Look and label', View: LabelView },
  { id: 'moments', title: 'Moments', View: MomentsView },
];

export const shown = signal<View>(views[0]!);
