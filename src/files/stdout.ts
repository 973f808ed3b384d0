import { fstatSync, statSync, writeFileSync } from 'node:fs';

/**
 * Writes on standard output. Into a file all of it, or an error tells that it cannot be: Node's own stream writes there once, and
 * what did not fit on a disk that filled up is gone without a word.
 */
export function say(text: string): void {
  if (!isFile()) {
    process.stdout.write(text);
    return;
  }
  try {
    writeFileSync(process.stdout.fd, Buffer.from(text));
  } catch (error) {
    process.stdout.emit('error', error);
  }
}

/** Whether what is written there comes out on standard output: /dev/stdout, or the file or pipe that it was sent into. */
export function isStandardOutput(path: string): boolean {
  try {
    const [there, own] = [statSync(path), fstatSync(process.stdout.fd)];
    // A device that takes everything mixes nothing up.
    const keeps = process.stdout.isTTY || !own.isCharacterDevice();
    return keeps && there.dev === own.dev && there.ino === own.ino;
  } catch {
    return false;
  }
}

function isFile(): boolean {
  try {
    return fstatSync(process.stdout.fd).isFile();
  } catch {
    // It is closed.
    return false;
  }
}
