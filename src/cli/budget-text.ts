import { figure, plural, significant } from '../base/figures.js';
import type { BudgetResult } from '../jobs/budget.js';
import { fold, listed, strong, table } from './terminal.js';

/** The usual cautions; what the maker and local rules say goes before them. */
const CAUTIONS =
  'Lithium batteries outdoors, the usual cautions: shade them, because a closed box in the sun gets hotter than they bear; keep them dry; never charge one below freezing, or while it is hot, wet or swollen, nor unwatched; use none that was dropped or pierced. The papers of its maker and the rules where you live go before this.';

/** What a budget says, for people. */
export function budgetText(result: BudgetResult): string {
  const { camera, assumed, notes } = result;
  return [
    strong(fold(`${camera.name}: ${headline(result)}`)),
    table(['', 'about', 'at least', 'at most'], rowsOf(result)),
    fold(restsOn(result)),
    fold(coldText(result)),
    ...notes.map((note) => fold(note)),
    ...listed('Taken as usual, because nobody said:', assumed),
    fold(CAUTIONS),
  ].join('\n\n');
}

/** A battery by the hours that the camera is on, a card by days: what each of them is used up by. */
function headline({ first, sure, endsAfterDays, hoursOut }: BudgetResult): string {
  const seems = sure ? '' : ', as it seems';
  if (first === 'card') return `the card is full first${seems}, after ${lasting(endsAfterDays, 1, 'day')}`;
  const days = hoursOut < 24 ? `, ${time(endsAfterDays.value)} days of ${significant(hoursOut, 3)}` : '';
  return `the battery is empty first${seems}, after ${lasting(endsAfterDays, hoursOut, 'hour')}${days}`;
}

/** @param each of the unit in a day out */
function lasting({ value, low, high }: BudgetResult['endsAfterDays'], each: number, unit: string): string {
  const n = time(value * each);
  return `${n} ${unit}${n === '1' ? '' : 's'} (${time(low * each)}–${time(high * each)})`;
}

/** Hours or days: two figures below 1 as well, for a tenth of a day is hours. */
function time(x: number): string {
  return x < 1 ? significant(x, 2) : figure(x);
}

function rowsOf({ batteryHours, cardDays, photosPerDay, hoursOut }: BudgetResult): string[][] {
  const orNoEnd = (x: number | null) => (x === null ? 'no end' : time(x));
  const row = (name: string, { value, low, high }: NonNullable<BudgetResult['cardDays']>) => [
    name,
    orNoEnd(value),
    time(low),
    orNoEnd(high),
  ];
  const { value, low, high } = batteryHours;
  return [
    row('battery, hours on', batteryHours),
    row('battery, days out', { value: value / hoursOut, low: low / hoursOut, high: high / hoursOut }),
    ...(cardDays ? [row('card, days out', cardDays)] : [['card, days out', 'no photo is taken', '', '']]),
    row('all photos, each evening', photosPerDay),
  ];
}

function restsOn({ photosPerHour, hoursOut, photoMB, measured, watts, wattHours }: BudgetResult): string {
  const { value, low, high } = photosPerHour;
  const between = low === high ? '' : ` (${figure(low)}–${figure(high)})`;
  const size = measured ? measuredText(measured, photoMB) : `${significant(photoMB.value, 3)} MB`;
  const reach = `${significant(wattHours.value, 4)} Wh${wattHours.low === wattHours.high ? '' : ` (${significant(wattHours.low, 4)}–${significant(wattHours.high, 4)})`}`;
  return `Reckoned with ${figure(value)}${between} photos an hour, of nothing and at visits alike, over ${significant(hoursOut, 3)} hours a day; a photo of ${size}; ${significant(watts, 3)} W on average out of ${reach} that reach the camera.`;
}

function measuredText(
  { photos, mean, deviation, low, high }: NonNullable<BudgetResult['measured']>,
  photoMB: BudgetResult['photoMB'],
): string {
  const [least, most] = [significant(photoMB.low, 3), significant(photoMB.high, 3)];
  if (deviation === null)
    return `${significant(mean, 3)} MB (${least}–${most}), as the only one given, which tells nothing of how others differ`;
  return `${significant(mean, 3)} MB (${least}–${most}), the mean of ${plural(photos, 'photo')} of yours (single ones: standard deviation ${significant(deviation, 2)}, nine in ten between ${significant(low, 3)} and ${significant(high, 3)})`;
}

function coldText({ inCold }: BudgetResult): string {
  const each = inCold.map(
    ({ celsius, capacity, batteryHours }) =>
      `at ${celsius} °C about ${Math.round(100 * capacity)} %, ${figure(batteryHours)} hours`,
  );
  return `In the cold a battery gives less: ${each.join('; ')}. In heat it gives no less, but ages: keep it below 45 °C. An old one holds less than it says. All of this is common practice, not measured.`;
}
