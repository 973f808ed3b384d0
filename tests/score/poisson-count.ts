/** A count that comes by chance about so many times, by waiting times. */
export function poissonCount(mean: number, random: () => number): number {
  const wait = () => -Math.log(1 - random());
  let n = 0;
  for (let now = wait(); now < mean; now += wait()) n++;
  return n;
}
