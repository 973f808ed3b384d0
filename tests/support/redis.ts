import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';

export const hasRedis = spawnSync('redis-server', ['--version']).status === 0;
/** Said where tests are left out. */
export const NO_REDIS = 'skipped: there is no redis-server on this machine (apt-get install redis-server)';

/** A server of a test's own: on a socket in a folder of its own, its journal on, heard by nobody else. */
export class Redis {
  readonly folder = mkdtempSync(join(tmpdir(), 'perchmark-redis-'));
  readonly socket = join(this.folder, 'redis.sock');
  readonly address = `unix://${this.socket}`;
  #child: ChildProcess | null = null;

  constructor(private readonly more: readonly string[] = []) {}

  async start(): Promise<void> {
    const files = ['--dir', this.folder, '--appendonly', 'yes', '--appendfsync', 'always', '--save', ''];
    const child = spawn(
      'redis-server',
      ['--port', '0', '--unixsocket', this.socket, ...files, ...this.more],
      { stdio: 'ignore' },
    );
    this.#child = child;
    while (!this.#answers()) {
      if (child.exitCode !== null) throw new Error('the server did not start');
      await pause(50);
    }
  }

  #answers(): boolean {
    if (!existsSync(this.socket)) return false;
    const said = spawnSync('redis-cli', ['-s', this.socket, 'ping'], { encoding: 'utf8' }).stdout;
    return /PONG|NOAUTH/.test(said);
  }

  /** As the power would. */
  async kill(): Promise<void> {
    const child = this.#child;
    if (!child || child.exitCode !== null || child.signalCode !== null) return;
    child.kill('SIGKILL');
    await once(child, 'exit');
  }

  /** What a command says. */
  say(...command: string[]): string {
    return execFileSync('redis-cli', ['-s', this.socket, ...command], { encoding: 'utf8' }).trim();
  }

  async remove(): Promise<void> {
    await this.kill();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
