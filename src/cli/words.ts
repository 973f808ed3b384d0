import type { Rate, Ratio } from '../score/intervals.js';

/** 75 -> 1:15; 3675 -> 1:01:15. */
export function clock(seconds: number): string {
  const whole = Math.floor(seconds + 1e-9);
  const pad = (n: number) => String(n).padStart(2, '0');
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor(whole / 60) % 60;
  return hours > 0 ? `${hours}:${pad(minutes)}:${pad(whole % 60)}` : `${minutes}:${pad(whole % 60)}`;
}

/** 79 % (66-88), or a dash where there is nothing to take a share of. */
export function share(ratio: Ratio | null): string {
  if (!ratio) return '-';
  return `${percent(ratio.value)} % (${percent(ratio.low)}-${percent(ratio.high)})`;
}

/** 4.8 (0.9-15), or a dash where nothing was watched. */
export function rate(r: Rate | null): string {
  return r ? `${figure(r.value)} (${figure(r.low)}-${figure(r.high)})` : '-';
}

/** Three figures at the most; no more digits than anyone can use. */
export function figure(x: number): string {
  if (x === 0) return '0';
  if (Math.abs(x) >= 100) return String(Math.round(x));
  return String(Number(x.toPrecision(Math.abs(x) < 1 ? 1 : 2)));
}

export function plural(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}

/** sensitivity 7, minimumArea 100, cooldown 10 */
export function dials(controls: Record<string, number>): string {
  return Object.entries(controls)
    .map(([name, position]) => `${name} ${position}`)
    .join(', ');
}

function percent(x: number): number {
  return Math.round(100 * x);
}
