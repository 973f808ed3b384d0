import { basename, relative, resolve, sep } from 'node:path';
import { Problem } from '../base/problem.js';
import type { FileOut, NotHeld } from '../clip/exchange/format.js';
import { type FormatName, formatNamed } from '../clip/exchange/formats.js';
import { recordingId } from '../clip/exchange/recording.js';
import {
  type CameraGiven,
  type ClipGiven,
  openCamera,
  openClips,
  openSettings,
  type SettingsGiven,
} from './open.js';
import { openPorts, type Ports } from './ports.js';

export interface LabelsExportInput {
  clip: ClipGiven;
  format: FormatName;
  /** The folder that the files are meant for; media are named from there. */
  dir: string;
  /** When the recording began, RFC 3339; left out: what clip.json says. */
  start?: string | undefined;
  /** Degrees; left out: what clip.json says. */
  place?: { latitude: number; longitude: number } | undefined;
  camera?: CameraGiven;
  /** Of the camera as it hung, for its cooldown; left out: none is told. */
  settings?: SettingsGiven | undefined;
  /** Who labelled. */
  contributor?: string | undefined;
  /** Whether names in the labels are scientific ones. */
  scientificNames?: boolean;
  /** Left out: now. */
  now?: Date;
}

export interface LabelsExportResult {
  clip: string;
  format: FormatName;
  dir: string;
  /** What the recording is called in each first file. */
  recording: string;
  /** Not written yet. */
  files: FileOut[];
  visits: number;
  notHeld: NotHeld[];
  notes: string[];
}

/**
 * The labels of a clip in an open format, as files that are ready to be written. Media are named, not copied.
 * @throws Problem also for what the format must know and nobody said
 */
export async function exportLabels(
  { clip: given, format, dir, now = new Date(), ...said }: LabelsExportInput,
  ports: Ports = {},
): Promise<LabelsExportResult> {
  const { write } = await formatNamed(format);
  const camera = await openCamera(said.camera);
  const settings = said.settings === undefined ? null : await openSettings(said.settings, camera, ports);
  const [clip] = await openClips([given], await openPorts(ports));
  if (!clip) throw new Problem('usage', 'expected a clip, found none');
  if (!clip.labels) {
    throw new Problem(
      'needs-labels',
      `${clip.dir}: expected labels to write, found no labels.json; label it first (README, "On your own camera")`,
    );
  }
  const name = basename(resolve(clip.dir)).replace(/\.json$/, '');
  const inside = relative(resolve(dir), resolve(clip.dir)).split(sep).join('/');
  // Pictures of a drawn scene lie in no folder of its name.
  const isBeside = clip.dir.endsWith('.json') || inside === '' || /^(\.\.(\/|$)|\/|[a-z]:)/i.test(inside);
  const { files, notHeld, notes } = write({
    clip,
    labels: clip.labels,
    name,
    mediaFolder: isBeside ? name : inside,
    start: said.start ?? clip.manifest.start ?? null,
    place: said.place ?? clip.manifest.place ?? null,
    cooldown: settings?.cooldown ?? null,
    scientificNames: said.scientificNames === true,
    contributor: said.contributor ?? null,
    now,
  });
  const media = isBeside && format === 'camtrap-dp' && !clip.dir.endsWith('.json');
  return {
    clip: clip.dir,
    format,
    dir,
    recording: recordingId(clip.contentKey),
    files,
    visits: clip.labels.visits.length,
    notHeld,
    notes: media
      ? [
          ...notes,
          `the recording itself is not copied: whoever is to see it finds it as ${name} in ${dir} (copy it there, or export into the folder that the clip lies in)`,
        ]
      : notes,
  };
}

/** The document of `labels export --json`. */
export function labelsExportDocument({ files, ...told }: LabelsExportResult) {
  return { ...told, files: files.map(({ name }) => name) };
}
