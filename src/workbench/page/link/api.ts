import type { ProblemTold, StreamLine } from '../../protocol.js';
import { lookNow } from './alive.js';

/** What the server refused, or that it does not answer. */
export class Refused extends Error {
  override readonly name = 'Refused';

  constructor(
    readonly code: ProblemTold['code'] | 'no-answer',
    message: string,
  ) {
    super(message);
  }
}

export interface Asking {
  method?: 'GET' | 'POST' | 'PUT' | 'DELETE';
  /** Sent as JSON, or as it is where it is bytes. */
  body?: unknown;
  signal?: AbortSignal;
}

/**
 * Asks the server for JSON.
 * @param address relative to the page: 'api/workspace'
 * @throws Refused
 */
export async function ask<T>(address: string, asking: Asking = {}): Promise<T> {
  const response = await send(address, asking);
  return (await response.json()) as T;
}

/** Asks the server for bytes. */
export async function askBytes(address: string, asking: Asking = {}): Promise<ArrayBuffer> {
  return (await send(address, asking)).arrayBuffer();
}

/** How something long goes. */
export interface Told<P = never> {
  onPhase?: (what: string) => void;
  /** `at`: what a long job is at, in plain words. */
  onProgress?: (done: number, total: number, at?: string) => void;
  onWarning?: (line: string) => void;
  /** What is found already, where a result comes in parts. */
  onPart?: (part: P) => void;
}

/**
 * Asks for something that takes long; aborting the signal stops it on the server too.
 * @throws Refused
 */
export async function askLong<T, P = never>(address: string, asking: Asking & Told<P> = {}): Promise<T> {
  const response = await send(address, { method: 'POST', ...asking });
  for await (const line of linesOf<T, P>(response)) {
    if ('phase' in line) asking.onPhase?.(line.phase);
    else if ('done' in line) asking.onProgress?.(line.done, line.total, line.at);
    else if ('warning' in line) asking.onWarning?.(line.warning);
    else if ('part' in line) asking.onPart?.(line.part);
    else if ('problem' in line) throw new Refused(line.problem.code, line.problem.message);
    else return line.result;
  }
  throw gone();
}

async function* linesOf<T, P>(response: Response): AsyncGenerator<StreamLine<T, P>> {
  const reader = response.body!.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  for (;;) {
    const { done, value } = await reader.read().catch(() => {
      throw gone();
    });
    if (done) return;
    const lines = (rest + value).split('\n');
    rest = lines.pop()!;
    for (const line of lines) yield JSON.parse(line) as StreamLine<T, P>;
  }
}

async function send(address: string, { method = 'GET', body, signal }: Asking): Promise<Response> {
  const bytes = body instanceof Blob || body instanceof ArrayBuffer;
  const response = await fetch(address, {
    method,
    ...(body !== undefined && {
      body: bytes ? (body as BodyInit) : JSON.stringify(body),
      headers: { 'Content-Type': bytes ? 'application/octet-stream' : 'application/json' },
    }),
    ...(signal && { signal }),
  }).catch((error) => {
    if (signal?.aborted) throw error;
    throw gone();
  });
  if (response.ok) return response;
  const told = (await response.json().catch(() => null)) as ProblemTold | null;
  throw Object.assign(
    new Refused(told?.code ?? 'fault', told?.message ?? `the server answered ${response.status}`),
    { answer: told },
  );
}

/** What is said where there was no answer. */
export const NO_ANSWER = 'the server does not answer; start perchmark open again';

function gone(): Refused {
  lookNow();
  return new Refused('no-answer', NO_ANSWER);
}
