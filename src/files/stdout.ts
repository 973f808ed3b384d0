import { fstatSync, writeFileSync } from 'node:fs';

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

function isFile(): boolean {
  try {
    return fstatSync(process.stdout.fd).isFile();
  } catch {
    // It is closed.
    return false;
  }
}
