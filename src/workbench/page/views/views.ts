import { computed } from '@preact/signals';
import type { ComponentType } from 'preact';
import { shownId } from '../state/shown.js';
import { BringInView } from './bring-in/bring-in-view.js';
import { CameraView } from './camera/camera-view.js';
import { LabelView } from './label/label-view.js';
import { WhyView } from './why/why-view.js';

/** One thing that can be done on the page. */
export interface View {
  id: string;
  title: string;
  View: ComponentType;
}

/** In the order in which an owner comes to them. */
export const views: readonly View[] = [
  { id: 'bring-in', title: 'Bring in', View: BringInView },
  { id: 'label', title: 'Look and label', View: LabelView },
  { id: 'why', title: 'Why', View: WhyView },
  { id: 'camera', title: 'Camera', View: CameraView },
];

export const shown = computed<View>(() => views.find(({ id }) => id === shownId.value) ?? views[0]!);
