/** How options that a verb cannot do without are given, by their long names. */
const GIVEN: Readonly<Record<string, string>> = {
  '--as': 'camtrap-dp',
  '--distance': '2',
  '--fired': 'DCIM',
  '--forecast': 'week.csv',
  '--shared': '/mnt/clips',
};

/** What is said of a command line that leaves out an option it needs, with what to add; anything else as it is. */
export function withNeeded(text: string): string {
  return text.replace(/required option '(--[\w-]+)[^']*' not specified/, (said, name: string) => {
    const value = GIVEN[name];
    return value === undefined ? said : `${said}; add it, such as ${name} ${value}`;
  });
}
