import { type Offer, SITES_COMMAND } from './offers.js';
import { quotedWord } from './quote.js';
import { allOf, type CommandNode, nameOf } from './tree.js';

/**
 * Completion for bash, without any other package: which command the line has come to, then what may stand where the
 * cursor is. Files are left to the shell itself wherever nothing else may stand there.
 */
export function bashScript(program: CommandNode): string {
  const nodes = allOf(program);
  return `# Completion of perchmark in bash, as perchmark completion bash prints it
_perchmark_command() {
  case "$1" in
${cases(nodes.flatMap((node) => (node.path.length === 0 ? [] : [[pathOf(node), 'return 0']])))}
  esac
  return 1
}
_perchmark_value() {
  case "$1" in
${cases(nodes.flatMap(({ path, options }) => options.flatMap(({ flags, takes }) => (takes ? [[flags.map((flag) => `${path.join(' ')} ${flag}`).join('|'), offer(takes)] as const] : []))))}
    *) return 1 ;;
  esac
}
_perchmark_sites() {
  local site
  while IFS= read -r site; do words+=("$site"); done < <(${SITES_COMMAND})
}
_perchmark_options() {
  case "$1" in
${cases(nodes.map((node) => [pathOf(node), wordsText(node.options.flatMap(({ flags }) => flags))]))}
  esac
}
_perchmark_place() {
  case "$1" in
${cases(nodes.flatMap(placesOf))}
    *) kind=none ;;
  esac
}
_perchmark() {
  local kind=none path='' places=0 i word prev="\${COMP_WORDS[COMP_CWORD - 1]}" cur="\${COMP_WORDS[COMP_CWORD]}"
  local -a words=()
  # bash takes --option=value apart.
  if [[ $cur == = ]]; then cur=''
  elif [[ $prev == = ]]; then prev="\${COMP_WORDS[COMP_CWORD - 2]}"; fi
  for ((i = 1; i < COMP_CWORD; i++)); do
    word="\${COMP_WORDS[i]}"
    if [[ $word == -* ]]; then
      if _perchmark_value "$path $word"; then
        i=$((i + 1))
        [[ \${COMP_WORDS[i]} == = ]] && i=$((i + 1))
      fi
    elif ((places == 0)) && _perchmark_command "\${path:+$path }$word"; then path="\${path:+$path }$word"
    else places=$((places + 1)); fi
  done
  kind=none words=()
  if [[ $prev == -* ]] && _perchmark_value "$path $prev"; then :
  elif [[ $cur == -* ]]; then kind=words; _perchmark_options "$path"
  else _perchmark_place "$path $places"; fi
  COMPREPLY=()
  # Nothing to reply: the shell offers files.
  [[ $kind == files ]] && return
  # bash 3 has none, and does without.
  compopt +o default 2> /dev/null
  # What is a file's name is quoted by the shell; a word is not, and a folder of its name adds no slash to it.
  [[ $kind == both ]] && compopt -o filenames 2> /dev/null
  local quote=''
  [[ $cur == [\\"\\']* ]] && quote="\${cur:0:1}"
  cur="\${cur#[\\"\\']}"
  cur="\${cur//\\\\/}"
  for word in "\${words[@]}"; do
    [[ $word == "$cur"* ]] || continue
    [[ $kind == words && -z $quote ]] && printf -v word %q "$word"
    COMPREPLY+=("$word")
  done
  if [[ $kind == both ]]; then
    while IFS= read -r word; do COMPREPLY+=("$word"); done < <(compgen -f -- "$cur")
  fi
}
complete -o default -F _perchmark perchmark
`;
}

function pathOf({ path }: CommandNode): string {
  return path.join(' ');
}

function placesOf(node: CommandNode): (readonly [string, string])[] {
  const { path, places, goesOn, commands } = node;
  if (commands.length > 0) {
    return [[`${path.join(' ')} 0`, offer({ words: commands.map(nameOf), files: false, sites: false })]];
  }
  return places.map((place, i) => {
    const anyNumber = goesOn && i === places.length - 1;
    return [`${path.join(' ')} ${anyNumber ? '*' : i}`, offer(place)];
  });
}

/** Sets what may stand in a place. */
function offer({ words, files, sites }: Offer): string {
  if (sites) return 'kind=words; _perchmark_sites';
  if (words.length === 0) return `kind=${files ? 'files' : 'none'}`;
  return `kind=${files ? 'both' : 'words'}; ${wordsText(words)}`;
}

function wordsText(words: readonly string[]): string {
  return `words=(${words.map(quotedWord).join(' ')})`;
}

/** Patterns hold words of the command line alone, of which | parts several and * stands for any number. */
function cases(all: readonly (readonly [string, string] | string[])[]): string {
  return all
    .map(([pattern = '', then = '']) => {
      const alternatives = pattern
        .split('|')
        .map((one) => quotedWord(one.replace(/\*$/, '')) + (one.endsWith('*') ? '*' : ''));
      return `    ${alternatives.join(' | ')}) ${then} ;;`;
    })
    .join('\n');
}
