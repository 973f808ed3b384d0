import { decodedFrames, type FrameList, type Packets, packetsOf } from './frame-list.js';

/** Shorter videos are decoded whole: that takes no longer than trying whether their packets may be believed. */
const FEW = 500;
/** Packets decoded at each place where the packets are tried. */
const TRIED = 40;
/** Frames by which a decoder may put off showing one: no codec holds back more (16 in H.264 and HEVC). */
export const MOST_LATE = 16;
/** More than this share is not decoded to try the end, for the last key frame lies too far back. */
const MOST_OF_END = 0.05;

/** What a video's frames are, or why its packets do not tell; null: it is too short to ask them. */
export type Told = { frames: FrameList } | { doubt: string | null };

/**
 * A video's frames as its container's packets tell them, without decoding them. They are believed where each has a time of
 * its own, nothing is left out or broken, and what decodes at the start, in the middle and at the end is what they say.
 * @throws Problem 'needs-ffmpeg'; the signal's reason when aborted
 */
export async function framesByPackets(file: string, signal?: AbortSignal): Promise<Told> {
  const { code, complaint, ...packets } = await packetsOf(file, signal);
  if (code !== 0 || complaint !== '')
    return { doubt: `it is damaged: ${complaint || `ffprobe ended with ${code}`}` };
  if (packets.times.length < FEW) return { doubt: null };
  const told = inOrder(packets);
  if (typeof told === 'string') return { doubt: told };
  const doubt = await doubtOf(file, told, signal);
  return doubt === null ? { frames: { ...told, complaint } } : { doubt };
}

interface Timed extends FrameList {
  times: number[];
}

/** Packets to frames by rising time; what speaks against them, in words, where something does. */
function inOrder({ times: stored, keys, bytes, dropped }: Packets): Timed | string {
  if (dropped > 0) return 'some of its frames are not to be shown';
  if (stored.some((time) => Number.isNaN(time))) return 'some of its frames have no time';
  const places = Uint32Array.from(stored.keys()).sort((a, b) => stored[a]! - stored[b]!);
  const times = Array.from(places, (place) => stored[place]!);
  if (times.some((time, i) => i > 0 && !(time > times[i - 1]!))) return 'several of its frames have one time';
  // Frames that are stored far from where they are shown do not come of one recording.
  if (places.some((place, i) => Math.abs(place - i) > 2 * MOST_LATE)) return 'its times go back';
  const isKey = new Set(keys);
  const keyFrames = [...places.keys()].filter((i) => isKey.has(places[i]!));
  return { times, keyFrames, bytes, complaint: '' };
}

/** Decodes a little at three places, and says where that is not what the packets tell. */
async function doubtOf(file: string, told: Timed, signal: AbortSignal | undefined): Promise<string | null> {
  const { times, keyFrames } = told;
  const last = keyFrames.findLast((key) => key <= times.length - TRIED);
  const middle = keyFrames.findLast((key) => key <= times.length / 2);
  if (!last || !middle || times.length - last > Math.max(MOST_OF_END * times.length, FEW)) {
    return 'it has too few key frames to be tried at its end';
  }
  const places: Place[] = [
    { part: `%+#${TRIED}`, where: 'start', from: 0, first: true },
    { part: `${times[middle]}%+#${TRIED}`, where: 'middle', from: middle },
    { part: `${times[last]}%`, where: 'end', from: last, last: true },
  ];
  const left = await leftToTry(file, told, places, signal);
  for (const { part, where, ...ends } of left) {
    const { code, complaint, ...seen } = await decodedFrames(file, { signal, part });
    // Entered in the middle a decoder complains of what it has not seen, which says nothing.
    const isWhole = code === 0 && (complaint === '' || !ends.first);
    if (isWhole && agrees(seen, told, ends)) continue;
    return `what decodes at its ${where} is not what its packets say${complaint && ` (${complaint})`}`;
  }
  return null;
}

interface Place {
  /** As ffprobe's -read_intervals has it. */
  part: string;
  where: string;
  /** The frame at which it begins. */
  from: number;
  first?: boolean;
  last?: boolean;
}

/**
 * Decodes all places in one run, which spares starts, and says which are to be tried by themselves all the same: all of them,
 * where they cannot be told apart or one is not what was told, for ffprobe before 5.0 shows nothing after the first; the
 * start, where something was complained of, for that may have been there.
 */
async function leftToTry(
  file: string,
  told: Timed,
  places: Place[],
  signal: AbortSignal | undefined,
): Promise<Place[]> {
  // Frames may be shown so far from where they are stored, by what inOrder() lets pass.
  const apart = 2 * MOST_LATE;
  if (places.some(({ from }, i) => i > 0 && from - places[i - 1]!.from < TRIED + 2 * apart)) return places;
  const part = places.map((place) => place.part).join();
  const { code, complaint, times, keyFrames } = await decodedFrames(file, { signal, part });
  const cuts = places.map(({ from }) =>
    from === 0 ? 0 : times.findIndex((time) => time !== null && time >= told.times[from - apart]!),
  );
  const agree = places.every((ends, i) => {
    const [begin, end] = [cuts[i]!, cuts[i + 1] ?? times.length];
    const keys = keyFrames.filter((key) => key >= begin && key < end).map((key) => key - begin);
    return begin >= 0 && agrees({ times: times.slice(begin, end), keyFrames: keys }, told, ends);
  });
  if (code !== 0 || !agree) return places;
  return complaint === '' ? [] : places.filter(({ first }) => first);
}

/** Whether frames decoded from somewhere on are a run of those told, up to where the decoder was cut off. */
function agrees(
  seen: Pick<FrameList, 'times' | 'keyFrames'>,
  told: Timed,
  ends: { first?: boolean; last?: boolean },
): boolean {
  const from = ends.first ? 0 : (seen.keyFrames[0] ?? seen.times.length);
  // The last frames of a run may lack some between them whose packets come later.
  const to = ends.last ? seen.times.length : seen.times.length - MOST_LATE;
  if (to - from < TRIED - 2 * MOST_LATE) return false;
  const at = ends.first ? 0 : told.times.indexOf(seen.times[from]!);
  if (at < 0 || (ends.last && at + to - from !== told.times.length)) return false;
  const [keys, toldKeys] = [new Set(seen.keyFrames), new Set(told.keyFrames)];
  for (let k = from; k < to; k++) {
    const i = at + k - from;
    if (seen.times[k] !== told.times[i] || keys.has(k) !== toldKeys.has(i)) return false;
  }
  return true;
}
