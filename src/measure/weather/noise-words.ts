import { significant } from '../../base/figures.js';
import type { Clip } from '../../clip/open.js';
import type { Size } from '../../weather/averaging.js';
import type { PhotonTransfer } from '../../weather/sensor/photon-transfer.js';
import { elementsOf, READ_ACROSS } from '../../weather/sensor/sensor.js';

type Measured = Extract<PhotonTransfer, { kind: 'measured' }>;

/** A sensor's elements, as far as the noise of pixels tells of them. */
export interface Elements {
  /** Electrons. */
  fullWell: number;
  /** Electrons: from where to where it may lie, 90 %, and what it is taken for. */
  readNoise: { low: number; high: number; taken: number };
}

/** Where it may be none at all, read noise is taken for this share of the most that it may be. */
const OF_THE_MOST = 0.5;

/**
 * What noise measured at some size makes of the elements behind it.
 * @param gain that it was recorded with
 * @param width at which it was measured, pixels
 */
export function elementsFrom({ line, range }: Measured, gain: number, width: number): Elements {
  const readNoiseOf = (floor: number) => elementsOf({ floor, slope: line.slope }, gain, width).readNoise;
  const [low, high] = range.floor.map(readNoiseOf) as [number, number];
  const taken = low > 0 ? readNoiseOf(line.floor) : OF_THE_MOST * high;
  return { fullWell: elementsOf(line, gain, width).fullWell, readNoise: { low, high, taken } };
}

/** What was measured, at the size it was measured at; and what that is taken for, which rests on an assumption. */
export function noiseInWords(
  { clip, transfer }: { clip: Clip; transfer: Measured },
  { fullWell, readNoise }: Elements,
  gain: number,
  { width, height }: Size,
): string {
  const { line, range, places, levels } = transfer;
  const [low, high] = range.slope.map((slope) => significant(255 * slope, 2));
  const dark = range.floor.map((floor) => significant(255 ** 2 * floor, 2));
  const told = readNoise.low > 0;
  const inTheDark = told
    ? `${significant(255 ** 2 * line.floor, 2)} in the dark (${dark[0]} to ${dark[1]})`
    : `in the dark too little to tell (at most ${dark[1]})`;
  const reading = told
    ? `${significant(readNoise.taken, 2)} e- of read noise (${significant(readNoise.low, 2)} to ${significant(readNoise.high, 2)})`
    : `read noise too little to tell, at most ${significant(readNoise.high, 2)} e- and taken for ${significant(readNoise.taken, 2)} e-`;
  return (
    `sensor noise measured on ${clip.dir} by photon transfer at ${width}x${height}, through the curve of sRGB: its variance grows by ${significant(255 * line.slope, 2)} digital numbers per digital number of light (90 %: ${low} to ${high}), ${inTheDark}, from ${places} still places of grey levels ${Math.round(levels[0])} to ${Math.round(levels[1])}; ` +
    `if ${READ_ACROSS} elements are read across the picture, each in one of three colours, as is assumed, that is ${significant((255 * gain) / fullWell, 2)} digital numbers per electron of an element and ${reading}, at a gain taken as ${significant(gain, 2)}`
  );
}
