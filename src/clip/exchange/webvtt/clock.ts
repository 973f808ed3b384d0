/** A time as WebVTT has it: two digits of hours at least, three decimals. @param seconds rounded to the millisecond */
export function vttTime(seconds: number): string {
  const ms = Math.round(seconds * 1000);
  const two = (n: number) => String(n).padStart(2, '0');
  const [hours, minutes] = [Math.floor(ms / 3_600_000), Math.floor(ms / 60_000) % 60];
  return `${two(hours)}:${two(minutes)}:${two(Math.floor(ms / 1000) % 60)}.${String(ms % 1000).padStart(3, '0')}`;
}

const TIME = /^(?:(\d{2,}):)?([0-5]\d):([0-5]\d)\.(\d{3})$/;

/** Seconds, exactly the number that the decimals stand for; null for what is no time of WebVTT. */
export function secondsOfVtt(text: string): number | null {
  const parts = TIME.exec(text);
  if (!parts) return null;
  const [, hours = '0', minutes = '0', seconds = '0', decimals = '0'] = parts;
  return Number(`${3600 * Number(hours) + 60 * Number(minutes) + Number(seconds)}.${decimals}`);
}
