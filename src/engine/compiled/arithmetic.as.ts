// Arithmetic on whole frames in AssemblyScript, sixteen pixels at a time: `npm run compile:assembly` writes arithmetic-bytes.ts
// from it. All addresses come from arithmetic.ts, which leaves room behind each frame: the last pixels are read and written as
// sixteen too.

/** Of the bytes of four pixels red and green, each with 16 bits to itself, and blue with 32. */
function redAndGreen(pixels: v128): v128 {
  return i8x16.swizzle(pixels, i8x16(0, -1, 1, -1, 3, -1, 4, -1, 6, -1, 7, -1, 9, -1, 10, -1));
}

function blue(pixels: v128): v128 {
  return i8x16.swizzle(pixels, i8x16(2, -1, -1, -1, 5, -1, -1, -1, 8, -1, -1, -1, 11, -1, -1, -1));
}

/** Luminance of four pixels: thousandths, to which a half is added, divided by multiplying, exact for all that there are. */
function four(from: usize): v128 {
  const pixels = v128.load(from);
  const two = i32x4.dot_i16x8_s(redAndGreen(pixels), i16x8(299, 587, 299, 587, 299, 587, 299, 587));
  const third = i32x4.dot_i16x8_s(blue(pixels), i16x8(114, 0, 114, 0, 114, 0, 114, 0));
  const sum = i32x4.add(i32x4.add(two, third), i32x4.splat(500));
  return i32x4.shr_u(i32x4.mul(i32x4.shr_u(sum, 3), i32x4.splat(67109)), 23);
}

/** Luminance of pixels of three bytes, as engine/luminance.ts rounds it. */
export function grey(from: usize, to: usize, pixels: i32): void {
  for (const end = to + pixels; to < end; to += 16, from += 48) {
    const low = i16x8.narrow_i32x4_u(four(from), four(from + 12));
    const high = i16x8.narrow_i32x4_u(four(from + 24), four(from + 36));
    v128.store(to, i8x16.narrow_i16x8_u(low, high));
  }
}

/** |a - b| of each byte. */
export function difference(a: usize, b: usize, to: usize, pixels: i32): void {
  for (const end = to + pixels; to < end; to += 16, a += 16, b += 16) {
    const p = v128.load(a);
    const q = v128.load(b);
    v128.store(to, v128.or(i8x16.sub_sat_u(p, q), i8x16.sub_sat_u(q, p)));
  }
}

/** Eight sums of a ninth each, rounded to nearest: 3641 / 2^15 is exact for every sum up to 9 * 255. */
function ninths(sums: usize): v128 {
  const left = v128.load(sums - 2);
  const right = v128.load(sums + 2);
  return i16x8.q15mulr_sat_s(i16x8.add(i16x8.add(left, v128.load(sums)), right), i16x8.splat(3641));
}

/** Box mean of radius 1, as engine/smooth.ts has it. @param sums of columns: room for a row of 16 bits each, and one more before */
export function smooth(from: usize, to: usize, width: i32, height: i32, sums: usize): void {
  for (let y = 0; y < height; y++) {
    const here = from + y * width;
    const above = y === 0 ? here : here - width;
    const below = y === height - 1 ? here : here + width;
    for (let x = 0; x < width; x += 16) {
      const a = v128.load(above + x);
      const b = v128.load(here + x);
      const c = v128.load(below + x);
      const low = i16x8.add(i16x8.extend_low_i8x16_u(a), i16x8.extend_low_i8x16_u(b));
      const high = i16x8.add(i16x8.extend_high_i8x16_u(a), i16x8.extend_high_i8x16_u(b));
      const column = sums + (x << 1);
      v128.store(column, i16x8.add(low, i16x8.extend_low_i8x16_u(c)));
      v128.store(column, i16x8.add(high, i16x8.extend_high_i8x16_u(c)), 16);
    }
    // The edge column is repeated.
    store<u16>(sums - 2, load<u16>(sums));
    const last = sums + (width << 1);
    store<u16>(last, load<u16>(last - 2));
    const row = to + y * width;
    for (let x = 0; x < width; x += 16) {
      const column = sums + (x << 1);
      // What is written past the row's end the next row writes over.
      v128.store(row + x, i8x16.narrow_i16x8_u(ninths(column), ninths(column + 16)));
    }
  }
}
