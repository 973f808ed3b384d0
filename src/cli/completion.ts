import { Argument, type Command } from 'commander';
import { say } from '../files/stdout.js';
import { type CompletionDocument, shells } from '../jobs/documents/completion.js';
import { bashScript } from './completion/bash.js';
import { fishScript } from './completion/fish.js';
import { type CommandNode, treeOf } from './completion/tree.js';
import { zshScript } from './completion/zsh.js';
import { JSON_OUT } from './options.js';

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
    .description(
      'Prints a script that lets your shell complete the commands, options and words of perchmark. Save it in a file, so that a shell that starts need not wait for it, and again after an update of perchmark.',
    )
    .addArgument(new Argument('<shell>', 'which shell').choices(shells))
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      `
Once, and it holds from the next shell on (zsh: the line that it adds must stand after compinit):
  perchmark completion bash > ~/.perchmark.bash && echo 'source ~/.perchmark.bash' >> ~/.bashrc
  perchmark completion zsh > ~/.perchmark.zsh && echo 'source ~/.perchmark.zsh' >> ~/.zshrc
  perchmark completion fish > ~/.config/fish/completions/perchmark.fish`,
    )
    .action(async (shell: Shell, { json }: { json?: true }) => {
      const script = SCRIPTS[shell](treeOf(await whole()));
      const document: CompletionDocument = { shell, script };
      say(json ? `${JSON.stringify(document, null, 2)}\n` : script);
    });
}
