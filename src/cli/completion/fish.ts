import { type Offer, SITES_COMMAND } from './offers.js';
import { allOf, type CommandNode, nameOf, type OptionNode } from './tree.js';

/** Completion for fish: a line for each thing that may be written, and where. */
export function fishScript(program: CommandNode): string {
  const nodes = allOf(program);
  const paths = nodes.flatMap(({ path }) => (path.length === 0 ? [] : [word(path.join(' '))]));
  return `# Completion of perchmark in fish, as perchmark completion fish prints it
function __perchmark_at
    set -l path ''
    for token in (commandline -opc)[2..-1]
        string match -q -- '-*' $token; and continue
        set -l longer (string trim -- "$path $token")
        contains -- $longer ${paths.join(' ')}; or break
        set path $longer
    end
    test "$path" = "$argv[1]"
end
function __perchmark_sites
    # Set alone takes a pattern that nothing matches.
    set -l clips */clip.json
    ${SITES_COMMAND.replace('*/clip.json', '$clips')}
end
complete -c perchmark -f
${nodes.flatMap(linesOf).join('\n')}
`;
}

function linesOf(node: CommandNode): string[] {
  const { path, options, places, commands } = node;
  const at = `complete -c perchmark -n ${word(`__perchmark_at ${word(path.join(' '))}`)}`;
  return [
    ...commands.map((one) => `${at} -a ${word(nameOf(one))} -d ${word(one.about)}`),
    ...options.map((option) => `${at} ${optionText(option)}`),
    ...places.map((place) => `${at} ${[...(place.files ? ['-F'] : []), ...offered(place)].join(' ')}`),
  ];
}

function optionText({ flags, about, takes }: OptionNode): string {
  const names = flags.map((flag) => (flag.startsWith('--') ? `-l ${flag.slice(2)}` : `-s ${flag.slice(1)}`));
  const value = takes ? [takes.files ? '-r -F' : '-x', ...offered(takes)] : [];
  return [...names, ...value, `-d ${word(about)}`].join(' ');
}

function offered({ words, sites }: Offer): string[] {
  if (sites) return [`-a ${word('(__perchmark_sites)')}`];
  return words.length === 0 ? [] : [`-a ${word(words.map(word).join(' '))}`];
}

/** A text as one word: between single quotation marks fish reads a backslash before these two alone. */
function word(text: string): string {
  return `'${text.replace(/[\\']/g, (sign) => `\\${sign}`)}'`;
}
