import { join } from 'node:path';
import type { Camera } from '../camera/description.js';
import { engineValues, positionOf } from '../camera/dials.js';
import { type Output, type OutputRules, openOutput } from '../files/output.js';
import { openOutputFolder } from '../files/output-folder.js';
import { readTemplate, type Template } from '../files/template.js';
import { filesOf, type SettingsOfSite, settingsFile } from '../jobs/tune/files-of.js';
import type { SiteResult } from '../jobs/tune.js';
import { siteName, whatToRecord } from '../words/answer.js';
import { fold, strong } from './terminal.js';

/** Where to write what to set, found fit before the work began. */
export interface Writing {
  dir: string;
  template: Template | null;
}

type Content = string | Uint8Array;

/** Makes the folder and reads the template. @throws Problem where either is not as expected */
export async function openWriting(
  dir: string,
  template: string | undefined,
  camera: Camera,
): Promise<Writing> {
  const known = [...new Set([...Object.keys(camera.controls), ...engineValues])];
  const read = template === undefined ? null : await readTemplate(template, known);
  await openOutputFolder('--write', dir);
  return { dir, template: read };
}

/**
 * Writes for each site its settings files, the camera's own files filled in, and its card: all places are looked at, and
 * all is made, before the first is written.
 * @returns the files, as they were named
 */
export async function writeSettings(
  sites: readonly SiteResult[],
  { dir, template }: Writing,
  cameraOf: (site: SiteResult) => Camera,
  rules: OutputRules,
  cardOf: (site: SiteResult) => Promise<string>,
  note: (line: string) => void,
): Promise<string[]> {
  const wanted: [Output, () => Content | Promise<Content>][] = [];
  const add = async (name: string, content: () => Content | Promise<Content>) => {
    wanted.push([await openOutput('--write', join(dir, name), rules), content]);
  };
  for (const { site, stem, groups } of filesOf(sites)) {
    if (groups.length === 0) {
      note(`${siteName(site)}: too little to tell, so nothing is written for it. ${whatToRecord(site)}`);
      continue;
    }
    const camera = cameraOf(site);
    for (const group of groups) {
      await add(`${group.stem}.json`, () => json(settingsFile(group.settings, camera)));
      if (template) await add(filledName(group, template), () => template.fill(valuesOf(group, camera)));
    }
    await add(`${stem}-card.html`, () => cardOf(site));
  }
  const made: [Output, Content][] = [];
  for (const [output, content] of wanted) made.push([output, await content()]);
  for (const [output, content] of made) await output.write(content);
  return wanted.map(([{ path }]) => path);
}

/** The files that were written, to stand at the end; `asked`: that files were to be, of which there may be none. */
export function writtenText(files: readonly string[], asked = false): string[] {
  if (files.length === 0 && asked)
    return [fold('Nothing was written: there is too little to tell what to set.')];
  return files.length === 0 ? [] : [[strong('Written'), ...files.map((file) => `  ${file}`)].join('\n')];
}

/** Beside the settings file, whose ending may be the same. */
function filledName({ stem }: SettingsOfSite, { ending }: Template): string {
  return /^\.json$/i.test(ending) ? `${stem}.camera.json` : `${stem}${ending}`;
}

/** Engine values and dial positions by their names; a dial that has the name of an engine value goes before it. */
function valuesOf({ settings }: SettingsOfSite, camera: Camera): Record<string, number> {
  const values = Object.fromEntries(engineValues.map((value) => [value, settings[value]]));
  const controls = Object.entries(camera.controls).map(([name, dial]) => [
    name,
    positionOf(dial, settings[dial.sets]) ?? settings[dial.sets],
  ]);
  return { ...values, ...Object.fromEntries(controls) };
}

function json(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}
