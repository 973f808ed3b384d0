/** Figures of cases, kept by site: cases of one site are no independent witnesses. */
export class Tally {
  private readonly bySite = new Map<number, number[]>();

  add(site: number, value: number): void {
    const values = this.bySite.get(site) ?? [];
    values.push(value);
    this.bySite.set(site, values);
  }

  get cases(): number {
    return [...this.bySite.values()].reduce((n, values) => n + values.length, 0);
  }

  get mean(): number {
    return mean([...this.bySite.values()].flat());
  }

  /** Half of a 90 % interval of the mean, from the scatter between sites. */
  get give(): number {
    const means = [...this.bySite.values()].map(mean);
    const middle = mean(means);
    const variance = means.reduce((sum, m) => sum + (m - middle) ** 2, 0) / (means.length - 1);
    return 1.645 * Math.sqrt(variance / means.length);
  }

  /** mean ± give */
  text(decimals = 3): string {
    return `${this.mean.toFixed(decimals)} ± ${this.give.toFixed(decimals)}`;
  }
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}
