import type { Camera } from '../camera/description.js';
import { type Clip, luminanceFrames } from '../clip/open.js';
import { meterForMany } from '../engine/compiled/meter.js';
import { Differencer } from '../engine/pipeline.js';
import type { Cache } from '../store/cache.js';
import { analysedFrames } from './analysed.js';
import { evidenceKey } from './evidence-key.js';
import type { PassOptions } from './pass.js';
import { keepPieces, PieceMeter, type PieceRules, pieceRulesOf, piecesKey, readPieces } from './pieces.js';

/** Notes where a clip changed while its evidence is first measured. */
export class PieceNotes {
  readonly pieces: PieceMeter | null;
  private readonly key: string | null;
  private readonly frames: number;

  constructor(clip: Clip, camera: Camera, mask: Uint8Array | null, floor: number) {
    const rules = pieceRulesOf(camera);
    this.pieces = rules && new PieceMeter(rules);
    this.key = rules && piecesKeyOf(clip, camera, mask, floor, rules);
    this.frames = analysedFrames(clip, camera).times.length;
  }

  /** Keeps what was noted, where it is whole. */
  async keep(cache: Cache): Promise<void> {
    const noted = this.pieces?.bytesOf(this.frames);
    if (this.key !== null && noted) await keepPieces(cache, this.key, noted);
  }
}

/**
 * Where a clip changed, as `stirringOf` reads it: noted when its evidence was first measured, else from the frames, all of them.
 * @param floor that of its evidence
 */
export async function piecesOf(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  rules: PieceRules,
  { cache, signal, onProgress }: Pick<PassOptions, 'cache' | 'onProgress'> & { signal?: AbortSignal },
): Promise<Uint8Array> {
  const key = piecesKeyOf(clip, camera, mask, floor, rules);
  const kept = await readPieces(cache, key);
  if (kept) return kept;
  const { indices, times } = analysedFrames(clip, camera);
  const { width, height } = camera.analysis;
  const pieces = new PieceMeter(rules);
  const differencer = new Differencer({ ...camera.analysis, reference: camera.reference, mask });
  const meter = meterForMany(width, height, rules.levels.at(-1), pieces);
  let k = 0;
  for await (const y of luminanceFrames(clip, indices, camera.analysis, signal)) {
    meter.take(differencer.next(y, times[k]!));
    meter.areas(pieces);
    pieces.endFrame(k++);
    onProgress?.(k, indices.length);
  }
  const bytes = pieces.bytesOf(times.length) as Uint8Array;
  await keepPieces(cache, key, bytes);
  return bytes;
}

function piecesKeyOf(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  rules: PieceRules,
): string {
  const { indices, times } = analysedFrames(clip, camera);
  return piecesKey(evidenceKey(clip, camera, mask, floor, indices, times), rules);
}
