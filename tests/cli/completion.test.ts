import { type ChildProcessWithoutNullStreams, spawn, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { shippedCameras } from '../../src/files/shipped-cameras.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'completion-'));
afterAll(() => rmSync(folder, { recursive: true }));
const perchmark = commandIn(folder);

/** What a shell says once it waits for a line. */
const READY = 'ready-for-more> ';
/** Shells by how they are started so that they read the completion, and a perchmark that prints its arguments. */
const shells = {
  bash: {
    start: `bash --noprofile --rcfile ${join(folder, 'rc.bash')} -i`,
    rc: `PS1='${READY}'\nbind 'set enable-bracketed-paste off'\nbind 'set completion-query-items 0'\nperchmark() { printf '<%s>' "$@"; echo '!'; }\n`,
  },
  zsh: {
    start: 'zsh -i',
    rc: `PS1='${READY}'\nunsetopt zle_bracketed_paste prompt_sp prompt_cr\nautoload -U compinit\ncompinit -u -D\nperchmark() { printf '<%s>' "$@"; echo '!'; }\n`,
  },
  fish: {
    start: `fish --no-config -i -C 'source ${join(folder, 'rc.fish')}'`,
    rc: `function fish_prompt; printf '${READY}'; end\nset -g fish_autosuggestion_enabled 0\nfunction perchmark; printf '<%s>' $argv; echo '!'; end\n`,
  },
} as const;
type Shell = keyof typeof shells;
const names = Object.keys(shells) as Shell[];
const has = (program: string) => spawnSync(program, ['--version']).status === 0;
const terminal = /util-linux/.test(spawnSync('script', ['--version'], { encoding: 'utf8' }).stdout ?? '');
const there = (shell: Shell) => terminal && has(shell);
for (const shell of names.filter((shell) => !there(shell)))
  console.log(`skipped: completion in ${shell}, which is not here`);

beforeAll(async () => {
  mkdirSync(join(folder, 'my clips', 'windy day'), { recursive: true });
  mkdirSync(join(folder, 'labels'));
  writeFileSync(join(folder, 'settings now.json'), '{}');
  writeFileSync(join(folder, 'camera.json'), '{}');
  writeFileSync(
    join(folder, 'perchmark.json'),
    '{ "version": 1, "sites": [ { "site": "log pile", "clips": [] }, { "site": "water bowl", "clips": [] } ] }',
  );
  for (const shell of names) {
    const { code, out } = await perchmark('completion', shell);
    expect(code).toBe(0);
    const file = shell === 'zsh' ? '.zshrc' : `rc.${shell}`;
    writeFileSync(join(folder, file), `${shells[shell].rc}${out}`);
  }
});

/** Types a line at a shell on a terminal of its own, Tab and Enter included, and gives the arguments that perchmark got. */
async function typed(shell: Shell, line: string): Promise<string[]> {
  const env = { ...process.env, ZDOTDIR: folder, HOME: folder, TERM: 'dumb', LC_ALL: 'C.UTF-8' };
  const child = spawn('script', ['-qec', shells[shell].start, '/dev/null'], { cwd: folder, env });
  try {
    await said(child, READY);
    child.stdin.write(line);
    // What was typed is echoed; this only the function prints.
    const printed = await said(child, '>!');
    return [...printed.matchAll(/<([^<>]*)>(?=<|!)/g)].map(([, word]) => word!);
  } finally {
    child.kill('SIGKILL');
  }
}

function said(child: ChildProcessWithoutNullStreams, what: string): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = '';
    const take = (piece: Buffer) => {
      text += piece.toString();
      if (!text.includes(what)) return;
      child.stdout.off('data', take);
      resolve(text);
    };
    child.stdout.on('data', take);
    child.once('exit', () => reject(new Error(`ended with: ${text}`)));
  });
}

describe.each(names)('%s', (shell) => {
  it.skipIf(!there(shell)).each<[string, string, string[]]>([
    ['a command', 'perchmark eve\t\n', ['evening']],
    ['a command within one', 'perchmark labels exp\t\n', ['labels', 'export']],
    ['a command beside a folder of that name', 'perchmark lab\texp\t\n', ['labels', 'export']],
    [
      'a word within quotation marks',
      'perchmark size --animal "house\t\n',
      ['size', '--animal', 'house sparrow'],
    ],
    ['an option', 'perchmark tune my-clip --photos-p\t 5\n', ['tune', 'my-clip', '--photos-per-day', '5']],
    [
      'a word that an option takes',
      'perchmark tune --camera small\t\n',
      ['tune', '--camera', 'small-and-slow'],
    ],
    ['a word with a space', 'perchmark size --animal house\t\n', ['size', '--animal', 'house sparrow']],
    ['a spot of the project', 'perchmark tune --site wat\t\n', ['tune', '--site', 'water bowl']],
    ['a format', 'perchmark labels export --as web\t\n', ['labels', 'export', '--as', 'webvtt']],
    ['a word of an argument', 'perchmark schema acc\t\n', ['schema', 'accepted']],
    ['a shell', 'perchmark completion zs\t\n', ['completion', 'zsh']],
    [
      'a file with a space',
      'perchmark replay x --settings sett\t\n',
      ['replay', 'x', '--settings', 'settings now.json'],
    ],
    ['a file where a word could be', 'perchmark tune --camera cam\t\n', ['tune', '--camera', 'camera.json']],
    ['folders with spaces', 'perchmark tune my\twin\t\n', ['tune', 'my clips/windy day']],
    ['nothing where a number is due', 'perchmark tune --worth cam\t\n', ['tune', '--worth', 'cam']],
  ])('completes %s', async (_, line, args) => {
    // Some shells leave the sign at the end of a folder.
    const got = (await typed(shell, line)).map((word) => word.replace(/\/$/, ''));
    expect(got).toEqual(args);
  });
});

describe('fish', () => {
  it.skipIf(!there('fish'))('says what each of several is', () => {
    const { stdout } = spawnSync(
      'fish',
      ['--no-config', '-c', `source ${join(folder, 'rc.fish')}; complete -C 'perchmark tune --re'`],
      { encoding: 'utf8', cwd: folder },
    );
    expect(
      stdout
        .split('\n')
        .sort()
        .slice(1)
        .map((line) => line.split('\t')),
    ).toEqual([
      ['--recorded-only', 'do not simulate weather that nobody recorded'],
      ['--report', 'also write one HTML file with figures and pictures'],
    ]);
  });
});

describe('completion', () => {
  it('offers each camera that ships, and is refused for another shell', async () => {
    const { out } = await perchmark('completion', 'bash', '--json');
    const { shell, script } = JSON.parse(out);
    expect(shell).toBe('bash');
    for (const name of shippedCameras) expect(script).toContain(`'${name}'`);
    const { code, err } = await perchmark('completion', 'dash');
    expect(code).toBe(2);
    expect(err).toContain('bash, zsh, fish');
  });
});
