import type { DialShown } from '../../words/dials-shown.js';
import {
  KNOB_MIDDLE,
  KNOB_RADIUS,
  KNOB_SIZE,
  knobMarks,
  knobPointer,
  knobValue,
  SMALL_KNOB,
  smallKnobMarks,
} from '../../words/knob.js';
import { tidy } from '../../words/wording.js';
import { escaped } from '../markup.js';
import { colour } from '../palette.js';
import { type Caption, FONT, framed } from './draw.js';

/** A dial as a knob with its scale: every position as a line, the chosen one pointed at and written in the middle. */
export function dialFigure(dial: DialShown, id: string): string {
  const marks = knobMarks(dial).map(({ d, width, chosen, name }) => {
    const ink = colour(chosen ? 'ink' : 'faint');
    const line = `<path d="${d}" stroke="${ink}" stroke-width="${width}"/>`;
    if (!name) return line;
    const weight = chosen ? ' font-weight="bold"' : '';
    return `${line}<text x="${name.x}" y="${name.y}" dy="0.35em" text-anchor="${name.anchor}" fill="${ink}"${weight}>${name.text}</text>`;
  });
  const svg =
    `<svg viewBox="0 0 ${KNOB_SIZE} ${KNOB_SIZE}" width="${KNOB_SIZE}" height="${KNOB_SIZE}" font-family="system-ui, sans-serif" font-size="${FONT}" text-anchor="middle" fill="${colour('ink')}">` +
    knob() +
    marks.join('') +
    pointer(dial) +
    `<text x="${KNOB_MIDDLE}" y="${KNOB_MIDDLE}" dy="0.36em" font-size="${dial.chosen === null ? FONT : 20}" font-weight="bold">${knobValue(dial).text}</text>` +
    `<text x="${KNOB_MIDDLE}" y="${KNOB_SIZE - 8}" font-size="${FONT + 2}" font-weight="bold">${escaped(dial.name)}</text></svg>`;
  return framed(caption(dial, id), svg);
}

/** The same knob where there is little room: its positions unnamed, the chosen one written as large as fits. */
export function smallDialFigure(dial: DialShown, id: string): string {
  const marks = smallKnobMarks(dial).map(
    ({ d, width, chosen }) =>
      `<path d="${d}" stroke="${colour(chosen ? 'ink' : 'faint')}" stroke-width="${width}"/>`,
  );
  const { text, small } = knobValue(dial);
  const corner = KNOB_MIDDLE - SMALL_KNOB / 2;
  const svg =
    `<svg viewBox="${corner} ${corner} ${SMALL_KNOB} ${SMALL_KNOB - 12}" width="${SMALL_KNOB}" height="${SMALL_KNOB - 12}" font-family="system-ui, sans-serif" text-anchor="middle" fill="${colour('ink')}">` +
    knob() +
    marks.join('') +
    pointer(dial) +
    `<text x="${KNOB_MIDDLE}" y="${KNOB_MIDDLE}" dy="0.36em" font-size="${small}" font-weight="bold">${text}</text></svg>`;
  return framed(caption(dial, id), svg);
}

function caption({ name, positions, chosen }: DialShown, id: string): Caption {
  const value = chosen === null ? null : tidy(positions[chosen]!);
  const ends = `from ${tidy(positions[0]!)} to ${tidy(positions.at(-1)!)}`;
  return {
    id,
    title: value === null ? `${name}: between two positions` : `${name} ${value}`,
    description: `${positions.length === 1 ? 'One position' : `${positions.length} positions ${ends}`}.`,
  };
}

function knob(): string {
  return `<circle cx="${KNOB_MIDDLE}" cy="${KNOB_MIDDLE}" r="${KNOB_RADIUS}" fill="${colour('card')}" stroke="${colour('ink')}" stroke-width="1.5"/>`;
}

function pointer(dial: DialShown): string {
  const d = knobPointer(dial);
  if (d === null) return '';
  return `<path d="${d}" stroke="${colour('recommended')}" stroke-width="5" stroke-linecap="round"/>`;
}
