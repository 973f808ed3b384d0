import { clock } from '../base/figures.js';
import { Problem } from '../base/problem.js';
import type { Labels, Stretch } from './labels.js';

/** How far a visit may reach past the clip's end and is cut there, in seconds. */
const slack = 1;
const tolerance = 1e-9;

/**
 * Labels against the clip they belong to: visits are cut at its end when they pass it by up to a second; other
 * stretches are cut wherever they pass it.
 * @param seconds the clip's length
 * @param file for messages
 * @throws Problem 'bad-field' for a visit outside the clip, or a corner that is no fraction of the frame
 */
export function checkLabels(
  labels: Labels,
  seconds: number,
  file: string,
): { labels: Labels; warnings: string[] } {
  const length = `the clip's length, ${told(Number(seconds.toFixed(3)))}`;
  const warnings: string[] = [];
  const visits = labels.visits.map((visit, i) => {
    if (visit.start >= seconds - tolerance) {
      throw new Problem(
        'bad-field',
        `${file}: visits[${i}].start: expected a time before ${length}, found ${told(visit.start)}; mend it or take the visit out`,
      );
    }
    if (visit.end > seconds + slack + tolerance) {
      throw new Problem(
        'bad-field',
        `${file}: visits[${i}].end: expected a time within ${length}, found ${told(visit.end)}; mend it`,
      );
    }
    return { ...visit, end: Math.min(visit.end, seconds) };
  });
  const cut = <S extends Stretch>(stretches: S[], field: string): S[] => {
    const late = stretches.findIndex((s) => s.end > seconds + slack + tolerance);
    if (late >= 0) {
      warnings.push(
        `${file}: ${field}[${late}].end: ${told(stretches[late]!.end)} is past ${length}; what lies past it was left out`,
      );
    }
    return stretches.filter((s) => s.start <= seconds).map((s) => ({ ...s, end: Math.min(s.end, seconds) }));
  };
  const checked: Labels = { ...labels, visits };
  if (labels.reviewed) checked.reviewed = cut(labels.reviewed, 'reviewed');
  if (labels.ignored) checked.ignored = cut(labels.ignored, 'ignored');
  if (labels.causes) checked.causes = cut(labels.causes, 'causes');
  for (const field of ['mask', 'foliage'] as const) checkFractions(labels, field, file);
  return { labels: checked, warnings };
}

/** As all output prints times, and exactly. */
function told(time: number): string {
  return `${clock(time, 1)} (${time} s)`;
}

function checkFractions(labels: Labels, field: 'mask' | 'foliage', file: string): void {
  for (const [i, polygon] of (labels[field] ?? []).entries()) {
    for (const [j, corner] of polygon.entries()) {
      const wrong = corner.findIndex((value) => value < 0 || value > 1);
      if (wrong < 0) continue;
      throw new Problem(
        'bad-field',
        `${file}: ${field}[${i}][${j}][${wrong}]: expected a fraction of the frame, from 0 to 1, found ${corner[wrong]}; divide pixels by the frame's ${wrong === 0 ? 'width' : 'height'}`,
      );
    }
  }
}
