import { Command, Help } from 'commander';
import { oneLine } from '../base/text.js';
import { version } from '../files/version.js';
import { withNeeded } from './needed.js';
import { eachOnce } from './once.js';

/** What the help of all verbs tells of one, and how to have it whole. */
interface Verb {
  readonly name: string;
  /** What it takes, as help shows it behind the name. */
  readonly usage: string;
  readonly summary: string;
  /** Gives what adds it to the program. */
  readonly load: () => Promise<(program: Command) => void>;
}

/** In the order of help. Each is loaded only where it is wanted, for what one of them needs may take long to load. */
const VERBS: readonly Verb[] = [
  {
    name: 'demo',
    usage: '[options] [dir]',
    summary: 'draws the demo clips and runs the whole job on them',
    load: async () => (await import('./demo.js')).addDemo,
  },
  {
    name: 'add',
    usage: '[options] <recording> <dir>',
    summary: 'makes a clip folder from stills or a video',
    load: async () => (await import('./add.js')).addAdd,
  },
  {
    name: 'open',
    usage: '[options] [folder]',
    summary: 'opens the workbench: a page on this machine to label clips and try settings',
    load: async () => (await import('./open.js')).addOpen,
  },
  {
    name: 'replay',
    usage: '[options] [clip...]',
    summary: 'shows what one group of settings catches, misses and fires at',
    load: async () => (await import('./replay.js')).addReplay,
  },
  {
    name: 'tune',
    usage: '[options] [clip...]',
    summary: 'tries every setting the camera offers and recommends one; needs labels',
    load: async () => (await import('./tune.js')).addTune,
  },
  {
    name: 'diagnose',
    usage: '[options] [clip...]',
    summary: 'explains why it fired falsely, what it missed and what would help',
    load: async () => (await import('./diagnose.js')).addDiagnose,
  },
  {
    name: 'weather',
    usage: '[options] <clip> <dir>',
    summary: 'puts wind, rain or dusk onto a clip',
    load: async () => (await import('./weather.js')).addWeather,
  },
  {
    name: 'plan',
    usage: '[options] [clip...]',
    summary: 'says what to set in the coming days, by a weather forecast',
    load: async () => (await import('./plan.js')).addPlan,
  },
  {
    name: 'check',
    usage: '[options] [suite]',
    summary: 'says whether results have got worse since they were accepted',
    load: async () => (await import('./check.js')).addCheck,
  },
  {
    name: 'fit',
    usage: '[options] <clip>',
    summary: 'finds the camera description that explains when a real camera fired',
    load: async () => (await import('./fit.js')).addFit,
  },
  {
    name: 'budget',
    usage: '[options]',
    summary: 'says how long battery and card last',
    load: async () => (await import('./budget.js')).addBudget,
  },
  {
    name: 'size',
    usage: '[options]',
    summary: 'says how large an animal looks to the camera',
    load: async () => (await import('./size.js')).addSize,
  },
  {
    name: 'evening',
    usage: '[options] [folder]',
    summary: "sorts the evening's real photos and compares them with what was promised",
    load: async () => (await import('./evening.js')).addEvening,
  },
  {
    name: 'labels',
    usage: '',
    summary: 'takes labels out of a clip, or into one, in an open format',
    load: async () => (await import('./labels.js')).addLabels,
  },
  {
    name: 'kept',
    usage: '[options]',
    summary: 'shows, limits or clears what is kept between runs',
    load: async () => (await import('./kept.js')).addKept,
  },
  {
    name: 'fleet',
    usage: '',
    summary: 'works on many clips with several machines',
    load: async () => (await import('./fleet.js')).addFleet,
  },
  {
    name: 'schema',
    usage: '[options] [name]',
    summary: 'prints the JSON Schema of a file or of a --json document',
    load: async () => (await import('./schema.js')).addSchema,
  },
  {
    name: 'completion',
    usage: '[options] <shell>',
    summary: 'lets the Tab key complete commands, options and files',
    load: async () => {
      const { addCompletion } = await import('./completion.js');
      return (program) => addCompletion(program, wholeProgram);
    },
  },
];

/** The program with all of its verbs, whole. */
export async function wholeProgram(): Promise<Command> {
  return programOf(VERBS, []);
}

/** The program as far as a command line asks for it: of verbs that it does not ask for it may know no more than is told of all. */
export async function programFor(args: readonly string[]): Promise<Command> {
  const [first, second] = args;
  const named = first === 'help' ? second : first;
  const verb = VERBS.find(({ name }) => name === named);
  if (verb) return programOf([verb], []);
  if (args.length === 1 && ['--version', '-V'].includes(first!)) return programOf([], []);
  const isOption = first?.startsWith('-') === true;
  // Behind an option may stand a verb.
  return isOption && args.length > 1 ? wholeProgram() : programOf([], VERBS);
}

async function programOf(whole: readonly Verb[], told: readonly Verb[]): Promise<Command> {
  const program = new Command('perchmark')
    .description('Chooses the trigger settings of a home-built wildlife camera before it is left alone.')
    .version(version())
    .configureOutput({
      outputError: (text, write) =>
        write(`perchmark: ${oneLine(withNeeded(text.replace(/^error: /, '').trim()))}\n`),
    })
    .exitOverride()
    .showSuggestionAfterError();
  for (const { load } of whole) (await load())(program);
  for (const command of program.commands) {
    const { summary } = VERBS.find(({ name }) => name === command.name()) as Verb;
    command.summary(summary).copyInheritedSettings(program);
  }
  if (told.length > 0) program.configureHelp({ subcommandTerm: termOf });
  for (const { name, summary } of told) {
    program.addCommand(new Command(name).summary(summary).copyInheritedSettings(program));
  }
  eachOnce(program);
  return program;
}

/** How help names a command that is told of: without what it takes, of which it knows nothing itself. */
function termOf(command: Command): string {
  const verb = VERBS.find(({ name }) => name === command.name());
  return verb ? `${verb.name} ${verb.usage}`.trimEnd() : new Help().subcommandTerm(command);
}
