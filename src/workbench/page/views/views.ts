import { computed } from '@preact/signals';
import type { ComponentType } from 'preact';
import { shownId } from '../state/shown.js';
import { AnswerView } from './answer/answer-view.js';
import { BringInView } from './bring-in/bring-in-view.js';
import { CameraView } from './camera/camera-view.js';
import { DialsView } from './dials/dials-view.js';
import { EveningView } from './evening/evening-view.js';
import { LabelView } from './label/label-view.js';
import { MaskView } from './mask/mask-view.js';
import { MomentsView } from './moments/moments-view.js';
import { PlanView } from './plan/plan-view.js';
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
  { id: 'moments', title: 'Moments', View: MomentsView },
  { id: 'camera', title: 'Camera', View: CameraView },
  { id: 'dials', title: 'Dials', View: DialsView },
  { id: 'why', title: 'Why', View: WhyView },
  { id: 'mask', title: 'Mask and foliage', View: MaskView },
  { id: 'answer', title: 'Answer', View: AnswerView },
  { id: 'plan', title: 'Coming days', View: PlanView },
  { id: 'evening', title: 'Evening', View: EveningView },
];

export const shown = computed<View>(() => views.find(({ id }) => id === shownId.value) ?? views[0]!);
