import { Problem } from '../base/problem.js';
import { oneLine } from '../base/text.js';
import { asProblem } from '../files/faults.js';
import type { OpenPorts } from '../jobs/ports.js';
import type { ProblemTold, StreamLine } from './protocol.js';

/** Progress is told at most so often. */
const EVERY_MS = 100;

/**
 * The answer of something that takes long: lines of JSON (application/x-ndjson) that tell how it goes, the last of them its
 * result or what was wrong. Where the page goes away, the job is stopped.
 */
export function streamed<T, P = never>(
  cache: OpenPorts['cache'],
  job: (ports: OpenPorts, tell: (part: P) => void) => Promise<T>,
): Response {
  const stop = new AbortController();
  const encoder = new TextEncoder();
  const body = new ReadableStream<Uint8Array>({
    async start(controller) {
      const say = (line: StreamLine<T, P>) => {
        if (!stop.signal.aborted) controller.enqueue(encoder.encode(`${JSON.stringify(line)}\n`));
      };
      let told = 0;
      try {
        const result = await job(
          {
            cache,
            signal: stop.signal,
            onPhase: (phase) => say({ phase: oneLine(phase) }),
            onProgress: (done, total, at) => {
              const now = Date.now();
              if (now - told < EVERY_MS && done < total) return;
              told = now;
              say({ done, total, ...(at !== undefined && { at }) });
            },
            onWarning: (line) => say({ warning: oneLine(line) }),
          },
          (part) => say({ part }),
        );
        say({ result });
      } catch (error) {
        say({ problem: problemTold(error) });
      }
      if (!stop.signal.aborted) controller.close();
    },
    cancel() {
      stop.abort(new Problem('usage', 'stopped by the page'));
    },
  });
  return new Response(body, { headers: { 'Content-Type': 'application/x-ndjson' } });
}

/** What went wrong as the page is told of it; a fault of ours goes to the terminal, with the place where it was. */
export function problemTold(error: unknown): ProblemTold {
  const problem = error instanceof Problem ? error : asProblem(error);
  if (problem) return { code: problem.code, message: problem.message };
  const [what, where = ''] = String((error as Error)?.stack ?? error).split(/\n\s+(?=at )/);
  process.stderr.write(`perchmark: ${oneLine(`a fault in the program: ${what} ${where}`)}\n`);
  return { code: 'fault', message: 'a fault in the program; the terminal tells more' };
}
