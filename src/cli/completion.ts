import { Argument, type Command } from 'commander';
import { type CompletionDocument, shells } from '../jobs/documents/completion.js';
import { bashScript } from './completion/bash.js';
import { fishScript } from './completion/fish.js';
import { type CommandNode, treeOf } from './completion/tree.js';
import { zshScript } from './completion/zsh.js';

type Shell = (typeof shells)[number];

const SCRIPTS: Readonly<Record<Shell, (program: CommandNode) => string>> = {
  bash: bashScript,
  zsh: zshScript,
  fish: fishScript,
};

/** @param whole gives the program with all of its verbs */
export function addCompletion(program: Command, whole: () => Promise<Command>): void {
  program
    .command('completion')
    .summary('completion of commands, options and files by the Tab key')
    .description(
      'Prints a script that lets your shell complete the commands, options and words of perchmark. Have it run each time that a shell starts; after an update of perchmark it says what is new.',
    )
    .addArgument(new Argument('<shell>', 'which shell').choices(shells))
    .option('--json', 'one JSON document on standard output')
    .addHelpText(
      'after',
      `
Once, and it holds from the next shell on:
  echo 'source <(perchmark completion bash)' >> ~/.bashrc
  echo 'source <(perchmark completion zsh)' >> ~/.zshrc         (after the line with compinit)
  echo 'perchmark completion fish | source' >> ~/.config/fish/config.fish`,
    )
    .action(async (shell: Shell, { json }: { json?: true }) => {
      const script = SCRIPTS[shell](treeOf(await whole()));
      const document: CompletionDocument = { shell, script };
      process.stdout.write(json ? `${JSON.stringify(document, null, 2)}\n` : script);
    });
}
