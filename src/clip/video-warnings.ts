import type { Probe } from './probe.js';

/**
 * Bits per pixel and frame below which an encoder throws away faint detail and noise. No standard says so: around 0.1 is
 * common practice for good quality at usual sizes; half of it is our judgement of where a recording misleads.
 */
const fewBits = 0.05;

/** Pictures at key frames must change this many times as much as the others, and by so many pixels more: our judgement. */
const pulseRatio = 2;
const pulsePixels = 20;
/** Fewer key frames or other frames than this say nothing about their medians. */
const fewFrames = 5;

/** A warning when a video is so strongly compressed that it hides what the camera itself would see, or null. */
export function compressionWarning(probe: Probe): string | null {
  const bits = (probe.bytes * 8) / (probe.times.length * probe.width * probe.height);
  if (probe.bytes === 0 || bits >= fewBits) return null;
  return `the video is strongly compressed (${bits.toPrecision(2)} bits per pixel and frame, below ${fewBits}): noise and faint movement that the camera itself sees are gone from it, so real use may fire more often; record with a higher bit rate or as stills`;
}

/** That a decoder complained, though as many frames came as there are. */
export function damageWarning(video: string, complaint: string): string {
  return `${video}: it is damaged (ffmpeg: ${complaint}); frames near the damage may be wrong`;
}

/**
 * A warning when a video's picture pulses at its key frames, or null.
 * @param changedAtFloor changed pixels at the lowest level kept, one for each analysed frame
 * @param indices the analysed frames, rising
 */
export function keyFramePulse(
  clip: { keyFrames?: Uint32Array },
  changedAtFloor: ArrayLike<number>,
  indices: ArrayLike<number>,
): string | null {
  const { keyFrames } = clip;
  if (!keyFrames) return null;
  const atKeys: number[] = [];
  const others: number[] = [];
  let key = 0;
  for (let k = 0; k < indices.length; k++) {
    const index = indices[k]!;
    const before = key;
    // Between two analysed frames a key frame may have come and gone; the later one shows the jump.
    while (key < keyFrames.length && keyFrames[key]! <= index) key++;
    // The first frame has nothing to differ from.
    if (k > 0) (key > before ? atKeys : others).push(changedAtFloor[k]!);
  }
  if (atKeys.length < fewFrames || others.length < fewFrames) return null;
  const [pulse, usual] = [median(atKeys), median(others)];
  if (pulse < pulseRatio * usual || pulse < usual + pulsePixels) return null;
  return `the picture pulses at the video's key frames (${pulse} changed pixels there, ${usual} otherwise, by the median): the encoder, not the scene, and it may cause false triggers; record with a higher bit rate, fewer key frames or as stills`;
}

function median(values: number[]): number {
  const sorted = values.sort((a, b) => a - b);
  const half = sorted.length >> 1;
  const upper = sorted[half]!;
  return sorted.length % 2 === 1 ? upper : (sorted[half - 1]! + upper) / 2;
}
