import type { Argument, Command, Option } from 'commander';
import { PROJECT } from '../../files/project.js';
import { shippedCameras } from '../../files/shipped-cameras.js';
import { schemasListed } from '../../jobs/schemas.js';
import { animalLengths } from '../../outing/animals.js';

/** What may stand in a place of a command line. */
export interface Offer {
  /** What may be written there, as far as that is known. */
  words: readonly string[];
  /** Whether a file may, or a folder. */
  files: boolean;
  /** Whether a spot may that the project in this folder names, or a clip in it. */
  sites: boolean;
}

/**
 * Names of spots, a line each, by what every system has: to start the program at each Tab would take too long. Names with a
 * quotation mark in them are left out.
 */
export const SITES_COMMAND = `grep -Eho '"site" *: *"[^"\\]+"' ${PROJECT} */clip.json 2>/dev/null | sed 's/^[^:]*: *"//; s/"$//' | sort -u`;

/** Placeholders of help that stand for something on the disk: a clip is a folder, or a scene file. */
const FILES = ['file', 'csv', 'clip', 'dir', 'folder', 'recording', 'suite'];

/** Words that commander does not know of, for what they stand for is checked later: by the name of the option or argument. */
const KNOWN: Readonly<Record<string, readonly string[]>> = {
  '--camera': shippedCameras,
  '--animal': Object.keys(animalLengths),
  '--times': ['exif', 'names', 'video'],
  'schema [name]': schemasListed.map(({ name }) => name),
};

/** What an option takes; null where it stands alone. */
export function offerOf(option: Option): Offer | null {
  if (!option.required && !option.optional) return null;
  const placeholder = /[<[]([^>\]]+)[>\]]/.exec(option.flags)?.[1] ?? '';
  const words = option.argChoices ?? KNOWN[option.long ?? ''] ?? [];
  return { words, files: isFile(placeholder), sites: option.long === '--site' };
}

/** What an argument of a command may be. */
export function offerFor(argument: Argument, command: Command): Offer {
  const words = argument.argChoices ?? KNOWN[`${command.name()} [${argument.name()}]`] ?? [];
  return { words, files: isFile(argument.name()), sites: false };
}

/** Also of "file or folder". */
function isFile(placeholder: string): boolean {
  return placeholder.split(' ').some((word) => FILES.includes(word));
}
