import type { Camera } from '../camera/description.js';
import type { ResolvedSettings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import { type AgainstResult, compareCases } from '../diagnose/against/against.js';
import { diagnose as explain } from '../diagnose/diagnose.js';
import type { Cure, Diagnosis } from '../diagnose/diagnosis.js';
import { openReplayed } from '../diagnose/replayed-clip.js';
import { unsaidRainText } from './diagnose/unsaid-rain.js';
import {
  type CameraGiven,
  type ClipGiven,
  noteCoarseClips,
  openCamera,
  openClips,
  openSettings,
  type SettingsGiven,
} from './open.js';
import { type OpenPorts, openPorts, type Ports } from './ports.js';

export type { AgainstResult } from '../diagnose/against/against.js';
export { diagnosisDocument } from './diagnose/document.js';

export interface DiagnoseInput {
  clips: readonly ClipGiven[];
  camera?: CameraGiven;
  settings: SettingsGiven;
  /** Other settings: which triggers and visits differ, and why. */
  against?: SettingsGiven | undefined;
  /** Whether to learn of each site from the causes in its clips' labels. */
  teach?: boolean;
  /** Further clips to learn from, of which nothing else is told. */
  teachers?: readonly ClipGiven[];
}

export interface DiagnoseResult extends Diagnosis {
  /** Clip by clip; null where nothing else was given. */
  against: AgainstResult[] | null;
}

/**
 * Explains every false trigger and every missed visit under one group of settings, and tries masks, notches on the dials
 * and longer waits as cures. Clips without labels are explained too, but nothing is cured.
 * @throws Problem for anything wrong with what was given; the signal's reason when aborted
 */
export async function diagnose(input: DiagnoseInput, ports: Ports = {}): Promise<DiagnoseResult> {
  const open = await openPorts(ports);
  const camera = await openCamera(input.camera);
  const settings = await openSettings(input.settings, camera, open);
  const other = input.against === undefined ? null : await openSettings(input.against, camera, open);
  const clips = await openClips(input.clips, open);
  noteCoarseClips(clips, camera, open);
  const teachers = input.teach ? await openClips(input.teachers ?? [], open) : [];
  const found = await explain(clips, camera, settings, { ...open, teach: input.teach ?? false, teachers });
  for (const [i, { clip, explained }] of found.clips.entries()) {
    const unsaid = unsaidRainText(clip, clips[i]!.manifest.conditions, explained);
    if (unsaid !== null) open.onWarning(unsaid);
  }
  return { ...found, against: other && (await compareAll(clips, camera, settings, other, open)) };
}

/** The best mask among the cures; undefined where none holds. */
export function bestMask({ cures }: Diagnosis): Cure | undefined {
  return cures.find(({ kind }) => kind === 'mask');
}

async function compareAll(
  clips: readonly Clip[],
  camera: Camera,
  these: ResolvedSettings,
  other: ResolvedSettings,
  ports: OpenPorts,
): Promise<AgainstResult[]> {
  // What there is to be said of a recording was said when it was first read.
  const { onWarning: _, ...reading } = ports;
  const results: AgainstResult[] = [];
  for (const clip of clips) {
    const open = (settings: ResolvedSettings) => {
      ports.onPhase(`${clip.dir}: holding other settings against these, reading frames`);
      return openReplayed(clip, camera, settings, reading);
    };
    results.push(await compareCases(await open(these), await open(other), reading));
  }
  return results;
}
