import { execFileSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

/** A disk of its own, gone after the tests of a file; or why there is none. */
export type Disk = { path: string; why: null } | { path: null; why: string };

/**
 * Mounts a file system in memory, which takes the superuser's rights.
 * @param size as mount(8) has it: 1m
 */
export function smallDisk(size: string): Disk {
  const path = mkdtempSync(join(tmpdir(), 'perchmark-disk-'));
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${size}`, 'tmpfs', path], { stdio: 'pipe' });
  } catch (error) {
    rmSync(path, { recursive: true });
    const said = String((error as { stderr?: unknown }).stderr ?? error);
    return { path: null, why: `skipped: no small disk can be mounted (${said.trim().split('\n')[0]})` };
  }
  afterAll(() => {
    execFileSync('umount', [path]);
    rmSync(path, { recursive: true });
  });
  return { path, why: null };
}

/** Writes until nothing more fits. */
export function fillUp(file: string): void {
  const to = openSync(file, 'w');
  try {
    for (;;) writeSync(to, Buffer.alloc(4096));
  } catch {
    // Full.
  } finally {
    closeSync(to);
  }
}
