import type { Command } from 'commander';
import { type Offer, offerFor, offerOf } from './offers.js';

/** An option as it may be written. */
export interface OptionNode {
  /** -h, --help */
  flags: string[];
  about: string;
  /** Null: it stands alone. */
  takes: Offer | null;
}

/** A command of the command line, whatever the shell. */
export interface CommandNode {
  /** The words that lead to it: none for the program itself. */
  path: string[];
  about: string;
  options: OptionNode[];
  /** What its arguments may be, in order. */
  places: Offer[];
  /** Whether there may be any number of the last. */
  goesOn: boolean;
  commands: CommandNode[];
}

/** Characters of what is said beside a word: a line of a terminal holds both. */
const MOST_SAID = 60;

/** The commands of a program, with all that may follow them, as its help tells them. */
export function treeOf(command: Command, path: string[] = []): CommandNode {
  const help = command.createHelp();
  const places = command.registeredArguments;
  return {
    path,
    about: inShort(command.summary() || command.description()),
    options: help.visibleOptions(command).map((option) => ({
      flags: [option.short, option.long].filter((flag) => flag !== undefined),
      about: inShort(option.description),
      takes: offerOf(option),
    })),
    places: places.map((argument) => offerFor(argument, command)),
    goesOn: places.at(-1)?.variadic === true,
    commands: help.visibleCommands(command).map((inner) => treeOf(inner, [...path, inner.name()])),
  };
}

/** A command and all within it. */
export function allOf(node: CommandNode): CommandNode[] {
  return [node, ...node.commands.flatMap(allOf)];
}

/** What it is called: its last word. */
export function nameOf({ path }: CommandNode): string {
  return path.at(-1) ?? '';
}

/** The first thing that is said of something, cut at a word where that is long. */
function inShort(text: string): string {
  const [first = ''] = text.split(/[;:(]|\.(?:\s|$)/);
  const said = first.trim();
  return said.length <= MOST_SAID ? said : `${said.slice(0, MOST_SAID - 3).replace(/\s+\S*$/, '')}...`;
}
