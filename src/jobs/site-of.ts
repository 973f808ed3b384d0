import { hint, Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';

/**
 * The site meant, among those of what `tune --json` or `plan --json` printed.
 * @param name as `--site` gives it; left out: the only one
 * @throws Problem where there are several and none is named, or there is none of that name
 */
export function siteOf<S extends { site: string | null }>(
  sites: readonly S[],
  name: string | undefined,
  file: string,
): S {
  const names = sites.map(({ site }) => site ?? '');
  const listed = names.map((one) => (one === '' ? 'one without a name' : quoted(one))).join(', ');
  if (name === undefined) {
    if (sites.length === 1) return sites[0]!;
    throw new Problem(
      'usage',
      `${file}: expected one site, found ${sites.length} (${listed}); say which with --site`,
    );
  }
  const found = sites[names.indexOf(name)];
  if (found) return found;
  throw new Problem('usage', `--site: expected one of ${listed}, found ${quoted(name)}${hint(name, names)}`);
}
