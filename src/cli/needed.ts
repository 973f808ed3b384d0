/** How options that a verb cannot do without are given, by their long names. */
const GIVEN: Readonly<Record<string, string>> = {
  '--as': 'camtrap-dp',
  '--distance': '2',
  '--fired': 'DCIM',
  '--forecast': 'week.csv',
  '--shared': '/mnt/clips',
};

/** What is said of a command line that leaves out what it needs, or holds what cannot be, with what to do; anything else as it is. */
export function withNeeded(text: string): string {
  return text
    .replace(/missing required argument '[^']+'$/, '$&; add it, as --help shows')
    .replace(/^command-argument value '(.*)' is invalid for argument '([^']+)'\./, "$2 '$1' is invalid.")
    .replace(/required option '(--[\w-]+)[^']*' not specified/, (said, name: string) => {
      const value = GIVEN[name];
      return value === undefined ? said : `${said}; add it, such as ${name} ${value}`;
    });
}
