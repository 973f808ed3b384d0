/** Times closer than this count as equal, in seconds. */
export const TIME_TOLERANCE = 1e-9;

/**
 * The smallest whole difference that counts as changed at `threshold`, from 1. Differences are whole, so a threshold
 * need not be. A threshold within 1e-9 above a whole number is that number: dials give values on a straight line,
 * with the rounding of the arithmetic.
 */
export function levelOf(threshold: number): number {
  return Math.max(1, Math.ceil(threshold - 1e-9));
}

/** Seconds after a trigger in which the camera neither counts frames nor fires. Photos are `interval` seconds apart. */
export function busySeconds(cooldown: number, shutterLag: number, photos: number, interval: number): number {
  return Math.max(cooldown, shutterLag + (photos - 1) * interval);
}

/** When the photos of a trigger at `time` are taken, in seconds. */
export function photoTimes(time: number, shutterLag: number, photos: number, interval: number): number[] {
  return Array.from({ length: photos }, (_, i) => time + shutterLag + i * interval);
}

/** Whether a frame is active: enough of it changed by the camera's measure, and not too much of it in all. */
export function isActive(area: number, changed: number, minimumArea: number, mostChanged: number): boolean {
  return area >= minimumArea && changed <= mostChanged;
}

/**
 * Fires at the last of `persistence` active frames in a row, then is busy for `busy` seconds, in which frames neither
 * count nor fire; then counting starts anew.
 */
export class TriggerMachine {
  private run = 0;
  private idleAt = Number.NEGATIVE_INFINITY;

  constructor(
    private readonly persistence: number,
    private readonly busy: number,
  ) {}

  /** Whether a frame at `time` would fall in the busy time of the last trigger. */
  isBusy(time: number): boolean {
    return time < this.idleAt - TIME_TOLERANCE;
  }

  /**
   * Takes the next frame and says whether it fires.
   *
   * @param active whether the frame is active; as a function, it is asked only when the camera is idle
   */
  step(time: number, active: (() => boolean) | boolean): boolean {
    if (this.isBusy(time)) return false;
    const counts = typeof active === 'function' ? active() : active;
    this.run = counts ? this.run + 1 : 0;
    if (this.run < this.persistence) return false;
    this.run = 0;
    this.idleAt = time + this.busy;
    return true;
  }
}

/** The indices of the frames that fire, where `active(k)` is asked only of frames that count. */
export function triggersOf(
  times: ArrayLike<number>,
  active: (k: number) => boolean,
  persistence: number,
  busy: number,
): number[] {
  const machine = new TriggerMachine(persistence, busy);
  const fired: number[] = [];
  for (let k = 0; k < times.length; k++) if (machine.step(times[k]!, () => active(k))) fired.push(k);
  return fired;
}
