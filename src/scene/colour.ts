/** Linear light, 0..1 for each of red, green, blue. */
export type Colour = readonly [number, number, number];

/** Signal to linear light, both 0..1 (sRGB, IEC 61966-2-1). */
export function toLinear(s: number): number {
  return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
}

/** Linear light to signal, both 0..1 (sRGB, IEC 61966-2-1). */
export function toSignal(v: number): number {
  return v <= 0.0031308 ? v * 12.92 : 1.055 * v ** (1 / 2.4) - 0.055;
}

/** A colour as seen on a screen, 0xrrggbb, in linear light. */
export function screen(hex: number): Colour {
  return [
    toLinear(((hex >> 16) & 255) / 255),
    toLinear(((hex >> 8) & 255) / 255),
    toLinear((hex & 255) / 255),
  ];
}

export function blend(a: Colour, b: Colour, t: number): Colour {
  return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t];
}

export function scaled(c: Colour, k: number): Colour {
  return [c[0] * k, c[1] * k, c[2] * k];
}

/** As screen(), with a third of its colour taken out: leaves and earth are duller than one remembers them. */
export function dull(hex: number): Colour {
  const c = screen(hex);
  const grey = 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2];
  return blend(c, [grey, grey, grey], 0.34);
}
