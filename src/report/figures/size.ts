import { figure, significant } from '../../base/figures.js';
import type { Camera } from '../../camera/description.js';
import { BODY_RATIO, type Looks } from '../../outing/looks.js';
import { escaped } from '../markup.js';
import { colour } from '../palette.js';
import { FONT, framed } from './draw.js';

/** Units of the drawing that the frame's longer side takes, that its words take at least, and room around the frame. */
const LONGEST = 640;
const WORDS = 440;
const [LEFT, TOP, RIGHT, BOTTOM] = [48, 40, 20, 70];
const TICK = 5;
/** The longest that the bar of centimetres may be, as a share of the frame's width. */
const LONGEST_BAR = 0.3;
/** Room beside and below what stands in a corner of the frame. */
const GAP = 12;

/**
 * The frame that the camera compares, to scale: an animal in its middle as a plain ellipse, the area of minimumArea as a
 * square, a scale of pixels along two sides and a bar of centimetres at the animal's distance.
 * @param name what the animal is called; null where a length was given
 */
export function sizeFigure(looks: Looks, { analysis }: Camera, name: string | null, id: string): string {
  const { width, height } = analysis;
  const scale = LONGEST / Math.max(width, height);
  const [wide, tall] = [width * scale, height * scale];
  const { pixels, minimumArea, distance, lengthCm } = looks;
  const animal = name ?? `${figure(lengthCm.value)} cm long`;
  const [middleX, middleY] = [rounded(LEFT + wide / 2), TOP + tall / 2];
  const [rx, ry] = [(pixels / 2) * scale, (pixels / 2) * BODY_RATIO * scale];
  const totalWidth = rounded(LEFT + Math.max(wide, WORDS) + RIGHT);
  const totalHeight = rounded(TOP + tall + BOTTOM);
  const said = `${figure(pixels)} pixels long, ${figure(looks.area)} in area, ${metres(distance)} away`;
  const svg =
    `<svg viewBox="0 0 ${totalWidth} ${totalHeight}" width="${totalWidth}" height="${totalHeight}" font-family="system-ui, sans-serif" font-size="${FONT + 1}" fill="${colour('ink')}">` +
    `<rect width="${totalWidth}" height="${totalHeight}" fill="${colour('paper')}"/>` +
    `<text x="${LEFT}" y="24" font-family="Palatino, Georgia, serif" font-size="17" font-weight="bold">${escaped(`${animal}: ${said}`)}</text>` +
    `<rect x="${LEFT}" y="${TOP}" width="${rounded(wide)}" height="${rounded(tall)}" fill="${colour('card')}" stroke="${colour('ink')}" stroke-width="1.5"/>` +
    `<g clip-path="url(#${id}-frame)"><ellipse cx="${middleX}" cy="${rounded(middleY)}" rx="${rounded(rx)}" ry="${rounded(ry)}" fill="${colour('caught')}" fill-opacity="0.45" stroke="${colour('caught')}"/></g>` +
    areaSquare(minimumArea, scale) +
    bar(looks, scale, wide, tall) +
    pixelScale(width, scale, (at, long) => ({
      line: `M${rounded(LEFT + at)},${rounded(TOP + tall)}v${long}`,
      x: LEFT + at,
      y: TOP + tall + TICK + 13,
      anchor: 'middle',
    })) +
    pixelScale(height, scale, (at, long) => ({
      line: `M${LEFT},${rounded(TOP + at)}h${-long}`,
      x: LEFT - TICK - 3,
      y: TOP + at + 4,
      anchor: 'end',
    })) +
    `<text x="${LEFT}" y="${rounded(TOP + tall + 38)}" fill="${colour('faint')}">pixels of the ${width} x ${height} that are compared; the body as an ellipse</text>` +
    `<text x="${LEFT}" y="${rounded(TOP + tall + 58)}">${escaped(reachText(looks))}</text></svg>`;
  const clip = `<defs><clipPath id="${id}-frame"><rect x="${LEFT}" y="${TOP}" width="${rounded(wide)}" height="${rounded(tall)}"/></clipPath></defs>`;
  const title = `${animal}, ${metres(distance)} away`;
  const description = `In a frame of ${width} x ${height} pixels it is ${said}. minimumArea ${figure(minimumArea)}. ${reachText(looks)}`;
  return framed({ id, title, description }, svg, clip);
}

function reachText({ minimumArea, farthest, farthestEndOn }: Looks): string {
  return `Fires with minimumArea ${significant(minimumArea, 6)} up to ${metres(farthest)} from the side, ${metres(farthestEndOn)} from the end.`;
}

/** The area of minimumArea as a square in the corner, dashed as what must be reached. */
function areaSquare(minimumArea: number, scale: number): string {
  const side = rounded(Math.sqrt(minimumArea) * scale);
  const [x, y] = [LEFT + GAP, TOP + GAP];
  return (
    `<rect x="${x}" y="${y}" width="${side}" height="${side}" fill="none" stroke="${colour('nothing')}" stroke-width="2" stroke-dasharray="5 3"/>` +
    `<text x="${rounded(x + side + 8)}" y="${y + 11}">minimumArea ${significant(minimumArea, 6)}</text>`
  );
}

/** A bar of a round number of centimetres where the animal is, in the lower right of the frame. */
function bar({ pixels, lengthCm, distance }: Looks, scale: number, wide: number, tall: number): string {
  const perCm = (pixels / lengthCm.value) * scale;
  const cm = roundBelow((LONGEST_BAR * wide) / perCm);
  const long = rounded(cm * perCm);
  const x = rounded(LEFT + wide - GAP - long);
  const y = rounded(TOP + tall - GAP);
  return (
    `<path d="M${x},${rounded(y - 6)}v6h${long}v-6" fill="none" stroke="${colour('ink')}" stroke-width="2"/>` +
    `<text x="${rounded(LEFT + wide - GAP)}" y="${rounded(y - 11)}" text-anchor="end">${cm < 100 ? `${significant(cm, 3)} cm` : metres(cm / 100)} at ${metres(distance)}</text>`
  );
}

interface Mark {
  line: string;
  x: number;
  y: number;
  anchor: 'middle' | 'end';
}

/** Lines and numbers along one side of the frame, at most ten steps of a round number of pixels. */
function pixelScale(pixels: number, scale: number, markAt: (at: number, long: number) => Mark): string {
  const step = Math.max(1, roundAbove(pixels / 10));
  const marks = Array.from({ length: Math.floor(pixels / step) + 1 }, (_, i) => i * step);
  const drawn = marks.map((pixel) => ({ pixel, ...markAt(pixel * scale, TICK) }));
  const lines = drawn.map(({ line }) => line).join('');
  const words = drawn.map(
    ({ pixel, x, y, anchor }) =>
      `<text x="${rounded(x)}" y="${rounded(y)}" text-anchor="${anchor}">${pixel}</text>`,
  );
  return `<path d="${lines}" stroke="${colour('ink')}" fill="none"/><g fill="${colour('faint')}">${words.join('')}</g>`;
}

/** The largest of 1, 2 and 5 times a power of ten up to x. */
function roundBelow(x: number): number {
  const power = 10 ** Math.floor(Math.log10(x));
  return ([5, 2].find((times) => times * power <= x) ?? 1) * power;
}

/** The smallest of 1, 2 and 5 times a power of ten from x on. */
function roundAbove(x: number): number {
  const power = 10 ** Math.floor(Math.log10(x));
  return ([1, 2, 5].find((times) => times * power >= x) ?? 10) * power;
}

function metres(x: number): string {
  return `${significant(x, 2)} m`;
}

function rounded(v: number): number {
  return Math.round(v * 10) / 10;
}
