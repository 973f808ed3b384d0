/** Degrees across the picture: the 8 MP small sensor, 3280x2464 at 1.12 um behind 3.04 mm (maker's camera documentation). */
const fieldOfView = 62.2;

/**
 * A pinhole camera looking level, its picture shifted so that the ground where animals come lies at `aim` of the height.
 * World: x metres to the right, y metres above ground, z metres away. Picture: pixels from the top left.
 */
export interface Lens {
  /** Focal length in pixels, (W / 2) / tan(HFOV / 2). */
  focal: number;
  centre: number;
  horizon: number;
  /** Metres above ground. */
  height: number;
}

const aim = 0.7;

export function lens(width: number, height: number, above: number, subject: number): Lens {
  const focal = width / 2 / Math.tan((fieldOfView * Math.PI) / 360);
  return { focal, centre: width / 2, horizon: aim * height - (focal * above) / subject, height: above };
}

export function pictureX(lens: Lens, x: number, z: number): number {
  return lens.centre + (lens.focal * x) / z;
}

export function pictureY(lens: Lens, y: number, z: number): number {
  return lens.horizon + (lens.focal * (lens.height - y)) / z;
}

/** The distance of the ground seen at row `py`, metres; Infinity above the horizon. */
export function groundDistance(lens: Lens, py: number): number {
  return py > lens.horizon ? (lens.focal * lens.height) / (py - lens.horizon) : Number.POSITIVE_INFINITY;
}
