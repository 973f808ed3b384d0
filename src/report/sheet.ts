import { Jimp, loadFont } from 'jimp';
import { SANS_14_BLACK } from 'jimp/fonts';

/** One picture on a contact sheet; without pixels the tile stays empty and only its caption stands. */
export interface Tile {
  caption: string;
  picture: { rgb: Uint8Array; width: number; height: number } | null;
  /** x, y, width, height as fractions of the picture: what to frame. */
  box?: readonly [number, number, number, number];
}

const TILE_WIDTH = 208;
const TILE_HEIGHT = 156;
const GAP = 10;
const CAPTION = 20;
const HEADING = 30;
const PAPER = 0xf7f5efff;
const EMPTY = 0xe4e0d4ff;
const FRAME_LIGHT = 0xffffffff;
const FRAME_DARK = 0x1d1d1dff;

/** Draws rows of captioned pictures, each row under its heading, and gives the bytes of a PNG file. */
export async function drawSheet(
  rows: readonly { heading: string; tiles: readonly Tile[] }[],
): Promise<Uint8Array> {
  const columns = Math.max(1, ...rows.map((row) => row.tiles.length));
  const rowHeight = HEADING + TILE_HEIGHT + CAPTION + GAP;
  const sheet = new Jimp({
    width: GAP + columns * (TILE_WIDTH + GAP),
    height: GAP + rows.length * rowHeight,
    color: PAPER,
  });
  const font = await loadFont(SANS_14_BLACK);
  rows.forEach((row, r) => {
    const top = GAP + r * rowHeight;
    sheet.print({ font, x: GAP, y: top, text: row.heading });
    row.tiles.forEach((tile, c) => {
      const left = GAP + c * (TILE_WIDTH + GAP);
      sheet.composite(tileImage(tile), left, top + HEADING);
      sheet.print({ font, x: left, y: top + HEADING + TILE_HEIGHT + 2, text: tile.caption });
    });
  });
  return sheet.getBuffer('image/png');
}

type Image = InstanceType<typeof Jimp>;

function tileImage({ picture, box }: Tile): Image {
  const tile = new Jimp({ width: TILE_WIDTH, height: TILE_HEIGHT, color: EMPTY });
  if (!picture) return tile;
  const { rgb, width, height } = picture;
  const image = new Jimp({ width, height });
  for (let i = 0; i < width * height; i++) {
    image.bitmap.data.set(rgb.subarray(3 * i, 3 * i + 3), 4 * i);
    image.bitmap.data[4 * i + 3] = 255;
  }
  tile.composite(image.resize({ w: TILE_WIDTH, h: TILE_HEIGHT }));
  if (box) frame(tile, box);
  return tile;
}

/** A light line inside a dark one, so that it shows on any background and without colour. */
function frame(tile: Image, [x, y, w, h]: readonly [number, number, number, number]): void {
  const margin = 4;
  const left = Math.round(x * TILE_WIDTH) - margin;
  const top = Math.round(y * TILE_HEIGHT) - margin;
  const right = Math.round((x + w) * TILE_WIDTH) + margin;
  const bottom = Math.round((y + h) * TILE_HEIGHT) + margin;
  for (const [grow, colour] of [
    [1, FRAME_DARK],
    [0, FRAME_LIGHT],
  ] as const) {
    for (let i = left - grow; i <= right + grow; i++) {
      dot(tile, i, top - grow, colour);
      dot(tile, i, bottom + grow, colour);
    }
    for (let j = top - grow; j <= bottom + grow; j++) {
      dot(tile, left - grow, j, colour);
      dot(tile, right + grow, j, colour);
    }
  }
}

function dot(tile: Image, x: number, y: number, colour: number): void {
  if (x >= 0 && y >= 0 && x < TILE_WIDTH && y < TILE_HEIGHT) tile.setPixelColor(colour, x, y);
}
