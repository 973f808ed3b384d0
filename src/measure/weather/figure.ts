/** Three figures at most: no more are known of any weather. */
export function figure(x: number): string {
  return String(Number(x.toPrecision(3)));
}
