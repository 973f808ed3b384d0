import { figure, significant } from '../../base/figures.js';
import type { Camera } from '../../camera/description.js';
import { photosOnCard, storageOf } from '../../outing/card.js';

/** That photos of nothing fill the card before a day is over, or null where they do not. @param perHour over the hours of use */
export function cardNote(perHour: number, hoursOfUseADay: number, camera: Camera): string | null {
  const { storage } = storageOf(camera, null);
  const holds = photosOnCard(storage);
  const aDay = perHour * hoursOfUseADay;
  if (aDay <= holds) return null;
  // As the page and the terminal tell photos of nothing, to two figures, unless that would no longer be more than it holds.
  const rough = Number(significant(aDay, 2));
  return `About ${figure(rough > holds ? rough : aDay)} photos of nothing a day are more than the card holds (${storage.cardGB} GB, some ${figure(holds)} photos of ${significant(storage.photoMB.value, 2)} MB): once it is full nothing more is photographed. Fewer come where a visit is worth fewer of them (3, say), or under a mask over what sways.`;
}
