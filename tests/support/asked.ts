import type { StreamLine } from '../../src/workbench/protocol.js';

/** All lines of a streamed answer. */
export async function linesOf<T>(answer: Response): Promise<StreamLine<T>[]> {
  const text = await answer.text();
  if (!answer.ok) throw new Error(`${answer.status} ${text}`);
  return text
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line) as StreamLine<T>);
}

/** The result of one that is to end well. */
export async function resultOf<T>(answer: Response): Promise<T> {
  const last = (await linesOf<T>(answer)).at(-1);
  if (!last || !('result' in last)) throw new Error(JSON.stringify(last));
  return last.result;
}

/** POST with a body of JSON. */
export function post(address: string, body?: unknown): Promise<Response> {
  return fetch(address, {
    method: 'POST',
    ...(body !== undefined && {
      body: JSON.stringify(body),
      headers: { 'Content-Type': 'application/json' },
    }),
  });
}
