import { type Camera, keepsEvidence } from '../camera/description.js';
import { positionOf } from '../camera/dials.js';
import type { Settings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import type { SiteResult } from '../jobs/tune.js';
import { fBeta } from '../score/intervals.js';
import { gridFor } from '../sweep/for-camera.js';
import { dialsOf, type Grid } from '../sweep/grid.js';
import { explain } from '../words/explain.js';
import { explainWeather, strengthName } from '../words/explain-weather.js';
import { clock, dialsText, figure, plural, rate, share } from '../words/ratios.js';
import { faint, fold, strong, table } from './terminal.js';

/** What tuning found, for people. */
export function tuneText(result: SiteResult, clips: readonly Clip[], camera: Camera): string {
  const grid = gridFor(camera);
  return [
    searched(result, clips, camera, grid),
    recommendation(result),
    explanation(result),
    notches(result, grid),
    weatherText(result),
    frontier(result, camera),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

function searched(result: SiteResult, clips: readonly Clip[], camera: Camera, grid: Grid): string {
  const { score } = result.best;
  const seconds = clips.reduce((sum, clip) => sum + clip.seconds, 0);
  const lines = [
    `Tried ${plural(result.searched, 'group')} of settings of the ${camera.name} on ${plural(clips.length, 'clip')}: ` +
      `${clock(seconds)} of recording, ${plural(score.visits, 'visit')}, ${figure(score.watchedHours)} watched hours.`,
  ];
  if (!keepsEvidence(camera)) {
    const all = dialsOf(camera).reduce((n, dial) => n * dial.positions.length, 1);
    const thinned = grid.size < all ? `, ${grid.size} of the ${all} its dials give, evenly spread` : '';
    lines.push(`Its reference depends on its triggers, so each group was replayed frame by frame${thinned}.`);
  }
  return fold(lines.join(' '));
}

function recommendation({ recommended }: SiteResult): string {
  const { score, settings, unseen } = recommended;
  const { recall, falsePerHour } = unseen;
  const rows = [
    ['on these clips', `${score.caught} of ${score.visits}`, share(score.recall), rate(score.falsePerHour)],
    [
      'on others like them',
      '',
      recall ? share(recall) : 'too little to tell',
      falsePerHour ? rate(falsePerHour) : '',
    ],
  ];
  return [
    strong(`Use   ${dialsText(recommended.controls)}`),
    faint(`      as engine values: ${engineText(settings)}`),
    '',
    table(['', 'visits caught', 'share, 90 %', 'false an hour, 90 %'], rows),
  ].join('\n');
}

function explanation(result: SiteResult): string {
  return explain(result)
    .map((sentence) => fold(sentence))
    .join('\n');
}

function notches({ notches, recommended }: SiteResult, grid: Grid): string {
  const base = recommended.score;
  const rows = notches.map(({ dial, position, score }) => {
    const unit = grid.dials.find((d) => d.name === dial);
    const from = recommended.controls[dial]!;
    const stronger = unit && unit.positions.indexOf(position) > unit.positions.indexOf(from) ? 'up' : 'down';
    return [
      `${dial} ${from} ${stronger} to ${position}`,
      `${score.caught} (${signed(score.caught - base.caught)})`,
      `${score.falseTriggers} (${signed(score.falseTriggers - base.falseTriggers)})`,
      rate(score.falsePerHour),
    ];
  });
  return `${strong('One notch away')}\n${table(['dial', 'visits caught', 'false triggers', 'an hour'], rows)}`;
}

/** What to do in each kind of weather, and whether to change at all. */
export function weatherText(result: SiteResult): string {
  const { byCondition } = result;
  if (byCondition.length < 2) return '';
  const names = Object.keys(byCondition[0]?.choice.controls ?? {});
  const rows = byCondition.flatMap(({ condition, clips, source, choice, strengths }) => [
    [
      `${condition}, ${source === 'recorded' ? plural(clips.length, 'clip') : 'simulated'}`,
      `${choice.score.caught} of ${choice.score.visits}`,
      rate(choice.score.falsePerHour),
      ...names.map((name) => String(choice.controls[name])),
    ],
    ...(strengths ?? []).map(({ strength, recall, falsePerHour }) => [
      `  ${strengthName(condition, strength)}`,
      recall === null ? '-' : `${Math.round(100 * recall)} %`,
      falsePerHour === null ? '-' : figure(falsePerHour),
    ]),
  ]);
  const heads = ['weather', 'visits caught', 'false an hour', ...names];
  return [
    strong('Best for each kind of weather'),
    table(heads, rows),
    '',
    ...explainWeather(result).map((sentence) => fold(sentence)),
  ].join('\n');
}

/** More rows than this are thinned evenly, ends kept. */
const MOST_ROWS = 12;

function frontier({ front }: SiteResult, camera: Camera): string {
  const step = Math.max(1, (front.length - 1) / (MOST_ROWS - 1));
  const shown = Array.from(
    { length: Math.min(front.length, MOST_ROWS) },
    (_, i) => front[Math.round(i * step)],
  );
  const names = Object.keys(camera.controls);
  const rows = shown.flatMap((point) => {
    if (!point) return [];
    const { settings, recall, precision, falsePerHour } = point;
    const f1 = fBeta(precision, recall);
    const positions = positionsFor(settings, camera);
    return [
      [
        recall === null ? '-' : `${Math.round(100 * recall)} %`,
        falsePerHour === null ? '-' : figure(falsePerHour),
        precision === null ? '-' : `${Math.round(100 * precision)} %`,
        f1 === null ? '-' : f1.toFixed(2),
        ...names.map((name) => String(positions[name] ?? '-')),
      ],
    ];
  });
  const heads = ['visits caught', 'false an hour', 'triggers right', 'F1', ...names];
  const more =
    front.length > rows.length ? faint(`\n  ${rows.length} of ${front.length}; --json lists all`) : '';
  return `${strong('Most visits for each price in false triggers')}\n${table(heads, rows)}${more}`;
}

function positionsFor(settings: Settings, camera: Camera): Record<string, number> {
  return Object.fromEntries(
    Object.entries(camera.controls).flatMap(([name, dial]) => {
      const position = positionOf(dial, settings[dial.sets]);
      return position === undefined ? [] : [[name, position]];
    }),
  );
}

function engineText(s: Settings): string {
  return `threshold ${figure(s.threshold)}, minimumArea ${s.minimumArea}, mostChanged ${s.mostChanged}, persistence ${s.persistence}, cooldown ${s.cooldown}`;
}

function signed(n: number): string {
  return n > 0 ? `+${n}` : n === 0 ? 'same' : String(n);
}
