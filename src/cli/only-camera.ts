import { InvalidArgumentError } from 'commander';

/**
 * The file of a camera, for a verb that takes one.
 * @throws InvalidArgumentError where another camera was named before: only tune takes several
 */
export function onlyCamera(file: string, before: string | undefined): string {
  if (before === undefined) return file;
  throw new InvalidArgumentError(
    `Expected one camera, found ${before} before it; only tune takes several, to compare them. Leave one out.`,
  );
}
