import { MOST_ALLOWED, RAREST_ALLOWED } from '../../../tune/goal.js';
import { type Wish, wish } from '../state/answer.js';
import { NumberField } from './number-field.js';
import './wish-rows.css';

/** What the owner wants, asked alike wherever something is chosen by it: by what a visit is worth, or within so many photos. */
export function WishRows() {
  const now = wish.value;
  const set = (to: Partial<Wish>) => {
    wish.value = { ...wish.value, ...to };
  };
  const way = (kind: Wish['kind'], text: string) => (
    <label>
      <input type="radio" name="wish" checked={now.kind === kind} onChange={() => set({ kind })} /> {text}
    </label>
  );
  return (
    <>
      <div class="wish-row">
        {way('worth', 'One more visit is worth looking through')}
        <NumberField
          label="photos of nothing that one more visit is worth"
          after="photos of nothing"
          value={now.worth}
          least={0.1}
          most={MOST_ALLOWED}
          fraction
          onChange={(worth) => set({ kind: 'worth', worth })}
        />
      </div>
      <div class="wish-row">
        {way('photos', 'At most')}
        <NumberField
          label="photos of nothing a day"
          after="photos of nothing a day"
          value={now.photosPerDay}
          least={RAREST_ALLOWED}
          orNone
          most={MOST_ALLOWED}
          fraction
          onChange={(photosPerDay) => set({ kind: 'photos', photosPerDay })}
        />
      </div>
      <div class="wish-row">
        <span>The camera is out for</span>
        <NumberField
          label="hours a day that the camera is out"
          after="hours a day"
          value={now.hoursOut}
          least={0.01}
          most={24}
          fraction
          onChange={(hoursOut) => set({ hoursOut })}
        />
      </div>
    </>
  );
}
