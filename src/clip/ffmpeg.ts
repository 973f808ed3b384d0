import { type ChildProcessByStdio, spawn } from 'node:child_process';
import type { Readable } from 'node:stream';
import { Problem } from '../base/problem.js';

type Tool = 'ffmpeg' | 'ffprobe';

/** A run of ffmpeg or ffprobe: its output as it comes, and how it ended. */
export interface Run {
  output: Readable;
  /** Resolves when the process has ended. */
  ended: Promise<{ code: number | null; errors: string }>;
  kill(): void;
}

/** So much of what a tool said first is kept; it may repeat itself for every frame. */
const errorsKept = 4000;

/**
 * Starts a tool found on PATH. The output must be read or the run killed.
 * @throws Problem 'needs-ffmpeg' when it is not there
 */
export async function run(tool: Tool, args: readonly string[]): Promise<Run> {
  const child: ChildProcessByStdio<null, Readable, Readable> = spawn(tool, args, {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let errors = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    errors = (errors + text).slice(0, errorsKept);
  });
  const ended = new Promise<{ code: number | null; errors: string }>((resolve) => {
    child.on('close', (code) => resolve({ code, errors: errors.trim() }));
  });
  await new Promise<void>((resolve, reject) => {
    child.once('spawn', resolve);
    child.once('error', (error: NodeJS.ErrnoException) => reject(absent(tool, error)));
  });
  return {
    output: child.stdout,
    ended,
    kill: () => {
      child.kill('SIGKILL');
    },
  };
}

function absent(tool: Tool, error: NodeJS.ErrnoException): Problem {
  const why = error.code === 'ENOENT' ? 'is not on the PATH' : `cannot be started (${error.code})`;
  return new Problem(
    'needs-ffmpeg',
    `${tool} ${why}; reading a video needs ffmpeg: install it (Debian, Ubuntu, Raspberry Pi OS: sudo apt install ffmpeg; macOS: brew install ffmpeg; Windows: winget install ffmpeg), or give the clip as stills`,
  );
}

/** What a tool printed, whole. */
export async function textOf(running: Run): Promise<{ text: string; code: number | null; errors: string }> {
  let text = '';
  for await (const piece of running.output.setEncoding('utf8')) text += piece as string;
  return { text, ...(await running.ended) };
}

/**
 * The first thing a tool complained of, in its own words but for which part of it spoke, and where in its memory that lay
 * ("[h264 @ 0x55b984623440] "): no two runs say the same of that. '' where it complained of nothing.
 */
export function complaintIn(text: string): string {
  const lines = text.split('\n').map((line) => line.replace(/^\s*(\[[^\]]* @ [^\]]*\]\s*)+/, '').trim());
  return lines.find((line) => line !== '' && !/^Last message repeated/.test(line)) ?? '';
}

let everyFrame: Promise<string[]> | undefined;

/** The options that pass each decoded frame on once; their name changed with ffmpeg 5.1. */
export function everyFrameOnce(): Promise<string[]> {
  everyFrame ??= (async () => {
    const { text } = await textOf(await run('ffmpeg', ['-hide_banner', '-version']));
    return byVersion(versionIn(text));
  })();
  everyFrame.catch(() => {
    everyFrame = undefined;
  });
  return everyFrame;
}

/** Notes what version ffmpeg said it is, as it does of itself when nobody keeps it from it: asking takes longer than a frame. */
export function heardVersion(text: string): void {
  const version = versionIn(text);
  if (version !== null) everyFrame ??= Promise.resolve(byVersion(version));
}

/** Major number times 100 and minor; null where there is none, or a developer's own. */
function versionIn(text: string): number | null {
  const [, major, minor] = /^ffmpeg version n?(\d+)\.(\d+)/.exec(text) ?? [];
  return major === undefined ? null : Number(major) * 100 + Number(minor);
}

/** A developer's own is taken to be new. */
function byVersion(version: number | null): string[] {
  return version !== null && version < 501 ? ['-vsync', 'passthrough'] : ['-fps_mode', 'passthrough'];
}
