/** 75 -> 1:15; 75.4 with one decimal -> 1:15.4; 3675 -> 1:01:15. */
export function clock(seconds: number, decimals: 0 | 1 = 0): string {
  const unit = 10 ** decimals;
  const whole = Math.floor(seconds * unit + 1e-6) / unit;
  const pad = (n: number) => String(n).padStart(2, '0');
  const rest = whole % 60;
  const second = pad(Math.floor(rest)) + (decimals ? `.${Math.floor((rest % 1) * 10 + 1e-6)}` : '');
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor(whole / 60) % 60;
  return hours > 0 ? `${hours}:${pad(minutes)}:${second}` : `${minutes}:${second}`;
}

export function plural(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}

/** At most `digits` significant figures, without zeros at the end: 1234.5 with three is 1230, 0.50 with any is 0.5. */
export function significant(x: number, digits: number): string {
  return String(Number(x.toPrecision(digits)));
}

/** Two figures, one below 1, whole from 100 on: no more digits than anyone can use. */
export function figure(x: number): string {
  if (x === 0) return '0';
  if (Math.abs(x) >= 100) return String(Math.round(x));
  return significant(x, Math.abs(x) < 1 ? 1 : 2);
}
