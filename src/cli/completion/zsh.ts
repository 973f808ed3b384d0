import { type Offer, SITES_COMMAND } from './offers.js';
import { quotedWord } from './quote.js';
import { allOf, type CommandNode, nameOf, type OptionNode } from './tree.js';

/** Completion for zsh by its own _arguments: a function for each command. */
export function zshScript(program: CommandNode): string {
  return `#compdef perchmark
# Completion of perchmark in zsh, as perchmark completion zsh prints it
_perchmark_offer() {
  local -a words=("$@")
  compadd -a words
}
_perchmark_sites() {
  setopt local_options null_glob
  local -a words=("\${(@f)$(${SITES_COMMAND})}")
  compadd -a words
}
${allOf(program).map(functionOf).join('\n')}
if [[ $funcstack[1] == _perchmark ]]; then _perchmark "$@"
else compdef _perchmark perchmark; fi
`;
}

function functionOf(node: CommandNode): string {
  const { path, options, places, goesOn, commands } = node;
  const name = functionName(path);
  const ofOptions = options.map(optionSpec);
  if (commands.length > 0) {
    const listed = commands.map((one) => quotedWord(`${escaped(nameOf(one))}:${one.about}`));
    const inner = commands.map((one) => `      ${nameOf(one)}) ${functionName(one.path)} ;;`);
    return `${name}() {
  local state line
  local -a commands=(${listed.join(' ')})
  _arguments -C ${[...ofOptions, "'1: :->command'", "'*:: :->rest'"].join(' ')}
  case $state in
    command) _describe command commands ;;
    rest) case $line[1] in
${inner.join('\n')}
    esac ;;
  esac
}`;
  }
  const ofPlaces = places.map((place, i) => {
    const which = goesOn && i === places.length - 1 ? '*' : String(i + 1);
    return quotedWord(`${which}: :${action(place)}`);
  });
  return `${name}() {
  _arguments ${[...ofOptions, ...ofPlaces].join(' ')}
}`;
}

function functionName(path: readonly string[]): string {
  return ['_perchmark', ...path].join('_');
}

/** (-h --help)'{-h,--help}'[about]:value:action */
function optionSpec({ flags, about, takes }: OptionNode): string {
  const value = takes ? `:value:${action(takes)}` : '';
  const said = quotedWord(`[${escaped(about)}]${value}`);
  const [first = ''] = flags;
  // Both --option value and --option=value.
  if (flags.length === 1) return `${first}${takes ? '=' : ''}${said}`;
  return `'(${flags.join(' ')})'{${flags.join(',')}}${said}`;
}

function action({ words, files, sites }: Offer): string {
  if (sites) return '_perchmark_sites';
  if (words.length === 0) return files ? '_files' : ' ';
  const offered = `_perchmark_offer ${words.map(quotedWord).join(' ')}`;
  return files ? `{${offered}; _files}` : `{${offered}}`;
}

/** Signs that part the pieces of a specification. */
function escaped(text: string): string {
  return text.replace(/[\\:[\]]/g, (sign) => `\\${sign}`);
}
