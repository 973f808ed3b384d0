import { type Connected, copyRows, type Joiner, LEVELS, type LevelWatch, type Sorted } from '../joiner.js';
import { lookUps, NEIGHBOURHOODS } from '../neighbourhoods.js';
import { LITTLE_ENDIAN } from '../words.js';
import { type Assembly, assemblyHere, PAGE } from './assembly.js';
import { JOINER } from './joiner-bytes.js';

type Address = { readonly value: number };

/** What joiner.as.ts exports. */
interface Exports
  extends Readonly<
    Record<'words' | 'lookUps' | 'setOf' | 'sets', Address> &
      Record<`${'all' | 'left'}${'Order' | 'Changed' | 'Region'}`, Address>
  > {
  /** Returns how many bytes of memory it takes. */
  layOut(width: number, height: number, floor: number): number;
  sort(): void;
  begin(all: number): void;
  join(from: number, to: number): number;
}

/** One for frames of a size; null where this machine has no WebAssembly or forbids it, or its memory has no room. */
export function compiledJoiner(width: number, height: number, floor: number): Joiner | null {
  const assembly = assemblyHere();
  // Its memory is little-endian on every machine, and typed arrays are not.
  if (!assembly || !LITTLE_ENDIAN) return null;
  try {
    return new CompiledJoiner(assembly, width, height, floor);
  } catch {
    // A page may forbid to compile it, each in its own way; there is another that does the same.
    return null;
  }
}

/** The module by what compiled it. */
const compiled = new WeakMap<Assembly, object>();

/** Does in WebAssembly what `PlainJoiner` does. */
class CompiledJoiner implements Joiner {
  readonly all: Sorted;
  readonly left: Sorted;
  private readonly exports: Exports;
  private readonly bytes: Uint8Array;
  private readonly connected: Connected;

  constructor(
    assembly: Assembly,
    private readonly width: number,
    private readonly height: number,
    private readonly floor: number,
  ) {
    const module = compiled.get(assembly) ?? new assembly.Module(JOINER);
    compiled.set(assembly, module);
    const memory = new assembly.Memory({ initial: 1 });
    const { exports } = new assembly.Instance(module, { env: { memory } });
    const own = exports as Exports;
    memory.grow(Math.ceil(own.layOut(width, height, floor) / PAGE));
    this.exports = own;
    const { buffer } = memory;
    const pixels = 4 * Math.ceil(width / 4) * height;
    this.bytes = new Uint8Array(buffer, own.words.value, pixels);
    const sortedAt = (order: Address, changed: Address, region: Address): Sorted => ({
      order: new Int32Array(buffer, order.value, pixels),
      changed: new Uint32Array(buffer, changed.value, LEVELS),
      region: new Uint32Array(buffer, region.value, LEVELS),
    });
    this.all = sortedAt(own.allOrder, own.allChanged, own.allRegion);
    this.left = sortedAt(own.leftOrder, own.leftChanged, own.leftRegion);
    const setOf = new Int32Array(buffer, own.setOf.value, (width + 2) * (height + 2));
    const first = own.sets.value;
    // Four numbers for each: the address of its root, then its pixels.
    const sets = new Int32Array(buffer, first, 4 * Math.ceil(width / 2) * Math.ceil(height / 2));
    this.connected = {
      rootAt: (position: number) => (sets[(setOf[position]! - first) >> 2]! - first) >> 4,
      sizeOf: (root: number) => sets[4 * root + 1]!,
    };
    const table = new Int32Array(buffer, own.lookUps.value, 4 * NEIGHBOURHOODS);
    const { first: one, second, third, rest } = lookUps(width + 2);
    for (let near = 0; near < NEIGHBOURHOODS; near++) {
      table.set([4 * one[near]!, 4 * second[near]!, third[near]!, rest[near]!], 4 * near);
    }
  }

  take(difference: Uint8Array): void {
    copyRows(difference, this.bytes, this.width, this.height);
    this.exports.sort();
  }

  join(sorted: Sorted, watch?: LevelWatch): void {
    const { exports, floor } = this;
    exports.begin(Number(sorted === this.all));
    let from = LEVELS - 1;
    for (let level = from; watch && level >= floor; level--) {
      if (watch.wanted[level] === 0) continue;
      const largest = exports.join(from, level);
      from = level - 1;
      watch.take(level, largest, sorted.order, sorted.changed[level]!, this.connected);
    }
    if (from >= floor) exports.join(from, floor);
  }
}
