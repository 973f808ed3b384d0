// What engine/joiner.ts does, in AssemblyScript, which looks like TypeScript and becomes WebAssembly: `npm run compile:assembly`
// writes joiner-bytes.ts from it. There it takes half as long, for addresses are plain numbers that nobody checks.

const LEVELS = 256;
const NEIGHBOURHOODS = 512;
/** Bytes of a set: its root, its pixels (where it is a root), the next of the ring it was joined to, how many these are. */
const SET = 16;
const PIXELS = 4;
const RING = 8;
const MEMBERS = 12;
/** Bytes of what is to be looked up for a neighbourhood: first and second in bytes of `setOf`, third, rest. */
const LOOK_UP = 16;
const SECOND = 4;
const THIRD = 8;
const REST = 12;

// Addresses of what engine/joiner.ts has under the same names.
export let words: usize = 0;
export let lookUps: usize = 0;
export let allOrder: usize = 0;
export let allChanged: usize = 0;
export let allRegion: usize = 0;
export let leftOrder: usize = 0;
export let leftChanged: usize = 0;
export let leftRegion: usize = 0;
export let setOf: usize = 0;
export let sets: usize = 0;
let pixelsAt: usize = 0;
let next: usize = 0;
let placed: usize = 0;

let across: i32 = 0;
let height: i32 = 0;
let stride: i32 = 0;
let floor: i32 = 0;
/** What carries a byte of the floor or more, up to 128, into its top bit, for the four bytes of a word. */
let lift: u32 = 0;

// How far joining has come.
let order: usize = 0;
let changed: usize = 0;
let region: usize = 0;
let at: usize = 0;
let largest: i32 = 0;
/** The set that the next pixel begins. */
let fresh: usize = 0;
let end: usize = 0;

let used: usize = 0;

function room(bytes: i32): usize {
  const start = used;
  used += (bytes + 63) & ~63;
  return start;
}

/** Gives the tables their places; returns how many bytes of memory they take. */
export function layOut(wide: i32, high: i32, lowest: i32): i32 {
  across = (wide + 3) >> 2;
  height = high;
  stride = wide + 2;
  floor = lowest;
  lift = (128 - min(lowest, 128)) * 0x01010101;
  const pixels = 4 * across * high;
  const blocks = ((wide + 1) >> 1) * ((high + 1) >> 1);
  used = 64;
  words = room(pixels);
  pixelsAt = room(4 * LEVELS);
  next = room(4 * LEVELS);
  allChanged = room(4 * LEVELS);
  allRegion = room(4 * LEVELS);
  leftChanged = room(4 * LEVELS);
  leftRegion = room(4 * LEVELS);
  lookUps = room(LOOK_UP * NEIGHBOURHOODS);
  placed = room(stride * (high + 2));
  setOf = room(4 * stride * (high + 2));
  sets = room(SET * blocks);
  end = sets + SET * blocks;
  allOrder = room(4 * pixels);
  leftOrder = room(4 * pixels);
  // All sets are still to be made single.
  fresh = end;
  return <i32>used;
}

function isCalm(word: u32): bool {
  return ((((word & 0x7f7f7f7f) + lift) | word) & 0x80808080) === 0;
}

function addOne(level: u32): void {
  const count = pixelsAt + (level << 2);
  store<i32>(count, load<i32>(count) + 1);
}

function put(level: u32, position: i32): void {
  const place = next + (level << 2);
  const k = load<i32>(place);
  store<i32>(place, k + 1);
  store<i32>(allOrder + (k << 2), position);
}

/** Counts and sorts the pixels of `words`. */
export function sort(): void {
  memory.fill(pixelsAt, 0, 4 * LEVELS);
  for (let i = words, last = words + ((across * height) << 2); i < last; i += 4) {
    const word = load<u32>(i);
    if (isCalm(word)) continue;
    addOne(word & 255);
    addOne((word >> 8) & 255);
    addOne((word >> 16) & 255);
    addOne(word >> 24);
  }
  let above = 0;
  for (let level = LEVELS - 1; level >= 0; level--) {
    store<i32>(next + (level << 2), above);
    above += load<i32>(pixelsAt + (level << 2));
    store<i32>(allChanged + (level << 2), level < floor ? 0 : above);
  }
  let i = words;
  for (let y = 1; y <= height; y++) {
    let position = y * stride + 1;
    for (const last = i + (across << 2); i < last; i += 4, position += 4) {
      const word = load<u32>(i);
      if (isCalm(word)) continue;
      put(word & 255, position);
      put((word >> 8) & 255, position + 1);
      put((word >> 16) & 255, position + 2);
      put(word >> 24, position + 3);
    }
  }
}

/** Begins with the highest level of all that changed, or of what is left of it. */
export function begin(all: bool): void {
  order = all ? allOrder : leftOrder;
  changed = all ? allChanged : leftChanged;
  region = all ? allRegion : leftRegion;
  memory.fill(placed, 0, stride * (height + 2));
  // Only those that the last joining began are other than single.
  for (let set = sets; set < fresh; set += SET) {
    store<i32>(set, <i32>set);
    store<i32>(set, 0, PIXELS);
    store<i32>(set, <i32>set, RING);
    store<i32>(set, 1, MEMBERS);
  }
  fresh = sets;
  at = order;
  largest = 0;
}

function joined(a: usize, b: usize): usize {
  const aStays = load<i32>(a, MEMBERS) >= load<i32>(b, MEMBERS);
  const stays = select<usize>(a, b, aStays);
  const goes = select<usize>(b, a, aStays);
  let member = goes;
  do {
    store<i32>(member, <i32>stays);
    member = <usize>load<i32>(member, RING);
  } while (member !== goes);
  const link = load<i32>(stays, RING);
  store<i32>(stays, load<i32>(goes, RING), RING);
  store<i32>(goes, link, RING);
  store<i32>(stays, load<i32>(stays, MEMBERS) + load<i32>(goes, MEMBERS), MEMBERS);
  store<i32>(stays, load<i32>(stays, PIXELS) + load<i32>(goes, PIXELS), PIXELS);
  return stays;
}

function rootAt(inSetOf: usize): usize {
  return <usize>load<i32>(<usize>load<i32>(inSetOf));
}

/** Joins the levels from one down to another, which go on from where the last call ended; returns the largest set's pixels. */
export function join(from: i32, to: i32): i32 {
  let k = at;
  let begun = fresh;
  let most = largest;
  // Into locals, so that they stay in registers.
  const isPlaced = placed;
  const setsAt = setOf;
  const table = lookUps;
  const row = stride;
  for (let level = from; level >= to; level--) {
    for (const last = order + (load<i32>(changed + (level << 2)) << 2); k < last; k += 4) {
      const position = load<i32>(k);
      const pixel = isPlaced + position;
      const here: u32 = load<u8>(pixel);
      const near: u32 = load<u8>(pixel - row) | (here << 3) | ((<u32>load<u8>(pixel + row)) << 6);
      store<u8>(pixel - 1, load<u8>(pixel - 1) | 4);
      store<u8>(pixel, here | 2);
      store<u8>(pixel + 1, load<u8>(pixel + 1) | 1);
      const set = setsAt + (position << 2);
      store<i32>(set, <i32>begun);
      // One more where there is no neighbour.
      begun += ((<i32>near - 1) >> 31) & SET;
      const look = table + near * LOOK_UP;
      let root = rootAt(set + load<i32>(look));
      const other = rootAt(set + load<i32>(look, SECOND));
      if (other !== root) root = joined(root, other);
      for (let left = load<i32>(look, THIRD); left !== 0; ) {
        const again = table + left * LOOK_UP;
        const another = rootAt(set + load<i32>(again));
        if (another !== root) root = joined(root, another);
        left = load<i32>(again, REST);
      }
      store<i32>(set, <i32>root);
      const grown = load<i32>(root, PIXELS) + 1;
      store<i32>(root, grown, PIXELS);
      most = select<i32>(grown, most, grown > most);
    }
    store<i32>(region + (level << 2), most);
  }
  at = k;
  fresh = begun;
  largest = most;
  return most;
}
