import type { Look } from './look.js';

/** What is tried, in plain words: "averages over 1.4 to 2.8 s, which stop while busy, at 160 x 120". All of one size. */
export function triedText(looks: readonly Look[]): string {
  const lags = new Set<number>();
  const seconds = new Set<number>();
  for (const { reference } of looks) {
    if (reference.kind === 'previous') lags.add(reference.lag);
    else seconds.add(reference.seconds);
  }
  const references = [...earlier([...lags]), ...averages([...seconds])].join(' and ');
  const stop = looks.every(({ whileBusy }) => whileBusy !== 'continues');
  const [first] = looks;
  return `${references}${stop ? ', still while busy,' : ''} at ${first?.width} x ${first?.height}`;
}

function earlier(lags: readonly number[]): string[] {
  if (lags.length === 0) return [];
  const [least, most] = [Math.min(...lags), Math.max(...lags)];
  if (least < most) return [`frames ${least} to ${most} back`];
  return [least === 1 ? 'the frame before' : `the frame ${least} back`];
}

function averages(seconds: readonly number[]): string[] {
  if (seconds.length === 0) return [];
  const [least, most] = [Math.min(...seconds), Math.max(...seconds)];
  return [least < most ? `averages over ${least} to ${most} s` : `an average over ${least} s`];
}
