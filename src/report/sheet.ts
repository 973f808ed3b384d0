import { Jimp, loadFont } from 'jimp';
import { SANS_14_BLACK } from 'jimp/fonts';
import { type Box, type Canvas, canvasOf, frameBox } from './canvas.js';
import { cropAround, cropped } from './crop.js';

/** One picture on a contact sheet. */
export interface Tile {
  caption: string;
  picture: { rgb: Uint8Array; width: number; height: number };
  /** Where the animal was, or what fired: the tile shows the picture around it. */
  box?: Box;
  /** Whether the box is framed, for else nobody would see what is meant. */
  framed?: boolean;
}

const TILE_WIDTH = 208;
const TILE_HEIGHT = 156;
/** Of the picture's side, shown at least. */
const LEAST = 1 / 3;
const GAP = 10;
const CAPTION = 20;
const HEADING = 30;
const PAPER = 0xf7f5efff;

/** Draws rows of captioned pictures, each row under its heading, and gives the bytes of a JPEG file. */
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
  return sheet.getBuffer('image/jpeg', { quality: 85 });
}

function tileImage({ picture, box, framed = false }: Tile): Canvas {
  const tile = new Jimp({ width: TILE_WIDTH, height: TILE_HEIGHT, color: PAPER });
  const image = canvasOf(picture.rgb, 3, picture.width, picture.height);
  const crop = box ? cropAround(box, LEAST) : WHOLE;
  const part = cropped(image, crop, TILE_WIDTH);
  tile.composite(part.resize({ w: TILE_WIDTH, h: TILE_HEIGHT }));
  if (box && framed) {
    const [x, y, width, height] = crop;
    frameBox(tile, [(box[0] - x) / width, (box[1] - y) / height, box[2] / width, box[3] / height]);
  }
  return tile;
}

const WHOLE: Box = [0, 0, 1, 1];
