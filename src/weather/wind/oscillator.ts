/** A branch as a damped oscillator: hertz and damping ratio (share of critical, below 1). */
export interface Swing {
  frequency: number;
  damping: number;
}

/**
 * Damped oscillators side by side, x'' + 2 zeta w x' + w^2 x = w^2 F: under a steady force F each comes to rest at x = F.
 * Stepped by the exact solution for a force held over the step, so that it is stable at any frequency and step.
 */
export class Oscillators {
  readonly displacement: Float64Array;
  readonly #velocity: Float64Array;
  /** Of each oscillator: share of displacement and of velocity kept in the new displacement, then in the new velocity. */
  readonly #kept: Float64Array;

  /** @param step seconds */
  constructor(swings: readonly Swing[], step: number) {
    this.displacement = new Float64Array(swings.length);
    this.#velocity = new Float64Array(swings.length);
    this.#kept = Float64Array.from(
      swings.flatMap(({ frequency, damping }) => {
        const w = 2 * Math.PI * frequency;
        const ringing = w * Math.sqrt(1 - damping * damping);
        const decay = Math.exp(-damping * w * step);
        const c = decay * Math.cos(ringing * step);
        const s = (decay * Math.sin(ringing * step)) / ringing;
        return [c + damping * w * s, s, -w * w * s, c - damping * w * s];
      }),
    );
  }

  /** Starts from given displacements, at rest. */
  start(displacement: ArrayLike<number>): void {
    this.displacement.set(displacement);
    this.#velocity.fill(0);
  }

  /** @param force one for each oscillator, held over the step */
  advance(force: ArrayLike<number>): void {
    const [x, v, kept] = [this.displacement, this.#velocity, this.#kept];
    for (let i = 0; i < x.length; i++) {
      const f = force[i]!;
      const off = x[i]! - f;
      const speed = v[i]!;
      x[i] = f + kept[4 * i]! * off + kept[4 * i + 1]! * speed;
      v[i] = kept[4 * i + 2]! * off + kept[4 * i + 3]! * speed;
    }
  }
}
