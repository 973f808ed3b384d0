import { type Camera, cameraSchema } from '../camera/description.js';
import { busyFor, photosFor } from '../camera/timing.js';
import { luminance } from '../engine/luminance.js';
import { Differencer } from '../engine/pipeline.js';
import { changedPixels, changedRegion, largestRegion } from '../engine/region.js';
import { smooth } from '../engine/smooth.js';
import { isActive, triggersOf } from '../engine/triggers.js';
import { framed } from '../report/figures/draw.js';
import { escaped } from '../report/markup.js';
import { colour } from '../report/palette.js';
import { createScene, type Scene } from '../scene/scene.js';
import { sceneSpec } from '../scene/spec.js';

/** So coarse that single pixels can be seen. */
const camera: Camera = cameraSchema.parse({
  version: 1,
  analysis: { width: 64, height: 48, rate: 5, smooth: 1 },
  reference: { kind: 'previous', lag: 1 },
  shutterLag: 0.6,
  burst: { photos: 2, interval: 1 },
});
const settings = { threshold: 14, minimumArea: 12, mostChanged: 400, persistence: 2, cooldown: 4 };

const scene = sceneSpec.parse({
  version: 1,
  title: 'What the fields of a camera mean',
  site: 'log pile',
  seed: 'figure 3',
  seconds: 24,
  rate: 5,
  width: 320,
  height: 240,
  start: '2026-05-06T07:10:00+01:00',
  place: { latitude: 51.5, longitude: -3 },
  conditions: { wind: 3, rain: 0, light: 15_000 },
  scene: { subject: 1.2, foliage: 1.9, height: 0.5, mount: 'post', cover: false },
  visits: { species: { blackbird: 1 } },
  insects: 0,
});

/** One frame on its way through the camera. */
interface Step {
  raw: Uint8Array;
  smoothed: Uint8Array;
  difference: Uint8Array;
}

/** Columns of the drawing, and what a panel of pixels and the strip below take; in units of the drawing. */
const WIDTH = 920;
const [LEFT, PANEL, GAP] = [20, 160, 20];
const PANEL_TOP = 64;
const PIXEL = PANEL / camera.analysis.width;
const PANEL_BOTTOM = PANEL_TOP + camera.analysis.height * PIXEL;
const STRIP = { left: LEFT, right: WIDTH - LEFT, top: PANEL_BOTTOM + 96, bottom: PANEL_BOTTOM + 206 };
const HEIGHT = STRIP.bottom + 50;
/** Shades of grey that are drawn. */
const SHADES = 16;

/**
 * One pair of frames and 24 seconds of a drawn garden on their way through a camera, all computed by the program itself: what
 * the fields of camera.json and of settings.json mean. The same bytes every time.
 */
export function cameraFigure(): string {
  const drawn = createScene(scene);
  const { steps, times } = stepsOf(drawn);
  const { width, height } = camera.analysis;
  const { threshold, minimumArea, mostChanged, persistence, cooldown } = settings;
  const areas = steps.map(({ difference }) => largestRegion(difference, width, height, threshold).pixels);
  const active = steps.map(({ difference }, k) =>
    isActive(areas[k]!, changedPixels(difference, threshold), minimumArea, mostChanged),
  );
  const fired = triggersOf(times, (k) => active[k]!, persistence, busyFor(camera, cooldown));
  const shown = fired[0]!;
  const body =
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="${colour('paper')}"/>` +
    heading(LEFT, 26, 'One frame is compared') +
    panelsOf(steps, shown) +
    heading(LEFT, STRIP.top - 34, 'Frame after frame, until it fires') +
    stripOf(drawn, times, areas, active, fired, shown);
  const svg = `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH}" height="${HEIGHT}" font-family="system-ui, sans-serif" font-size="12" fill="${colour('ink')}">${body}</svg>`;
  const description =
    'Above, five pictures: a frame brought to the analysis size, the same smoothed, the earlier frame that it is compared with, the difference of the two, and the pixels of it that reach the threshold, the largest connected region of them marked. Below, the area of that region over 24 seconds: where it reaches minimumArea in as many frames in a row as persistence says the camera fires, takes its photos after the shutter lag, and is busy until the cooldown is over.';
  // A picture that stands alone has no page to take its colours from.
  return framed({ id: 'camera', title: 'What the fields of camera.json mean', description }, svg).replaceAll(
    /var\(--[a-z-]+, (#[0-9a-f]+)\)/g,
    '$1',
  );
}

function stepsOf(drawn: Scene): { steps: Step[]; times: number[] } {
  const { width, height, smooth: radius } = camera.analysis;
  const differencer = new Differencer({ ...camera.analysis, reference: camera.reference, mask: null });
  const steps: Step[] = [];
  const times: number[] = [];
  for (const rgb of drawn.draw()) {
    const time = times.length / drawn.rate;
    const raw = luminance(rgb, 3, drawn.width, drawn.height, width, height);
    const difference = differencer.next(raw, time).slice();
    steps.push({ raw, smoothed: smooth(raw, width, height, radius), difference });
    times.push(time);
  }
  return { steps, times };
}

function panelsOf(steps: readonly Step[], shown: number): string {
  const { width, height } = camera.analysis;
  const { raw, smoothed, difference } = steps[shown]!;
  const before = steps[shown - 1]!.smoothed;
  const changed = changedRegion(difference, width, height, settings.threshold).mask;
  const region = largestRegion(difference, width, height, settings.threshold).mask;
  const most = Math.max(...difference);
  const panels: [what: string, field: string, drawn: string][] = [
    ['the frame, reduced', 'analysis: width, height, rate', greys(raw)],
    ['blurred against noise', 'analysis: smooth 1', greys(smoothed)],
    ['what it is compared with', 'reference: previous, lag 1', greys(before)],
    [
      'how much pixels differ',
      '(the darker, the more)',
      greys(difference.map((d) => 255 - (255 * d) / most)),
    ],
    [
      'pixels that differ enough',
      `threshold ${settings.threshold}; area: region`,
      greys(changed.map((is) => (is === 1 ? 150 : 255))) + runs(region, (is) => is === 1, colour('caught')),
    ],
  ];
  return panels
    .map(([what, field, drawn], i) => {
      const x = LEFT + i * (PANEL + GAP);
      const frame = `<rect x="${x}" y="${PANEL_TOP}" width="${PANEL}" height="${height * PIXEL}" fill="none" stroke="${colour('ink')}"/>`;
      return (
        `<text x="${x}" y="${PANEL_TOP - 10}">${escaped(what)}</text>` +
        `<g transform="translate(${x} ${PANEL_TOP}) scale(${PIXEL})" shape-rendering="crispEdges" fill="none">${drawn}</g>${frame}` +
        fieldText(x, PANEL_BOTTOM + 17, field)
      );
    })
    .join('');
}

/** The pixels of a frame in so many shades of grey. */
function greys(pixels: Uint8Array): string {
  const shade = (value: number) => Math.min(SHADES - 1, Math.floor((value * SHADES) / 256));
  return Array.from({ length: SHADES }, (_, s) => {
    const grey = Math.round((255 * s) / (SHADES - 1));
    return runs(pixels, (value) => shade(value) === s, `rgb(${grey},${grey},${grey})`);
  }).join('');
}

/** Pixels of a kind, each run along a row as one line. */
function runs(pixels: Uint8Array, belongs: (value: number) => boolean, stroke: string): string {
  const { width, height } = camera.analysis;
  let d = '';
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; ) {
      let end = x;
      while (end < width && belongs(pixels[y * width + end]!)) end++;
      if (end > x) d += `M${x} ${y}.5h${end - x}`;
      x = Math.max(end, x + 1);
    }
  }
  return d === '' ? '' : `<path stroke="${stroke}" d="${d}"/>`;
}

function stripOf(
  { seconds, labels }: Scene,
  times: readonly number[],
  areas: readonly number[],
  active: readonly boolean[],
  fired: readonly number[],
  shown: number,
): string {
  const { left, right, top, bottom } = STRIP;
  const tallest = Math.max(...areas, 2 * settings.minimumArea);
  const x = (time: number) => tenth(left + ((right - left) * time) / seconds);
  const y = (area: number) => tenth(bottom - ((bottom - top) * area) / tallest);
  const wide = tenth((right - left) / times.length - 1.2);
  const visits = labels.visits
    .map(({ start, end }) => span(x(start), x(end), top - 12, 6, colour('caught'), 0.35))
    .join('');
  const [visit] = labels.visits;
  const bars = times
    .map((time, k) => {
      const fill = colour(active[k] ? 'caught' : 'area');
      return `<rect x="${x(time)}" y="${y(areas[k]!)}" width="${wide}" height="${tenth(bottom - y(areas[k]!))}" fill="${fill}"/>`;
    })
    .join('');
  const busy = busyFor(camera, settings.cooldown);
  const triggers = fired
    .map((k) => {
      const time = times[k]!;
      const photos = photosFor(camera, time)
        .map((photo) => `<rect x="${tenth(x(photo) - 4)}" y="${bottom + 10}" width="8" height="6" rx="1"/>`)
        .join('');
      const middle = tenth(x(time) + wide / 2);
      return (
        span(x(time), Math.min(right, x(time + busy)), bottom + 24, 8, colour('rule'), 1) +
        `<path d="M${middle} ${bottom + 30}V${bottom + 2}l-4 7h8l-4-7" stroke="${colour('ink')}"/>${photos}`
      );
    })
    .join('');
  const at = times[shown]!;
  const lastPhoto = photosFor(camera, at).at(-1)!;
  return (
    `${visits}${bars}` +
    (visit ? `<text x="${tenth(x(visit.end) + 8)}" y="${top - 6}">an animal in view</text>` : '') +
    fieldText(
      tenth(x(at) + 14),
      top + 16,
      `persistence ${settings.persistence}: it fires at the second active frame in a row`,
    ) +
    `<path d="M${left} ${y(settings.minimumArea)}H${right}" stroke="${colour('nothing')}" stroke-dasharray="5 3"/>` +
    fieldText(
      right,
      y(settings.minimumArea) - 7,
      `minimumArea ${settings.minimumArea}: from here on a frame is active, up to mostChanged ${settings.mostChanged} pixels in all`,
      'end',
    ) +
    `<path d="M${left} ${bottom}H${right}" stroke="${colour('ink')}"/>${triggers}` +
    fieldText(
      tenth(x(lastPhoto) + 14),
      bottom + 17,
      `photos: the first after shutterLag ${camera.shutterLag} s; burst: ${camera.burst.photos}, ${camera.burst.interval} s apart`,
    ) +
    fieldText(tenth(x(at + busy) + 8), bottom + 32, `busy until cooldown ${settings.cooldown} s is over`)
  );
}

function span(from: number, to: number, y: number, height: number, fill: string, opacity: number): string {
  return `<rect x="${from}" y="${y}" width="${tenth(to - from)}" height="${height}" fill="${fill}" fill-opacity="${opacity}"/>`;
}

function heading(x: number, y: number, text: string): string {
  return `<text x="${x}" y="${y}" font-family="Palatino, Georgia, serif" font-size="16" font-weight="bold">${escaped(text)}</text>`;
}

function fieldText(x: number, y: number, text: string, anchor = 'start'): string {
  return `<text x="${x}" y="${y}" text-anchor="${anchor}" fill="${colour('faint')}">${escaped(text)}</text>`;
}

function tenth(value: number): number {
  return Math.round(10 * value) / 10;
}
