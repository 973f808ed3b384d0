/** The part of WebAssembly's interface that is used here: the compiler knows it only for browsers and for Node. */
export interface Assembly {
  readonly Memory: new (pages: {
    initial: number;
  }) => { readonly buffer: ArrayBuffer; grow(pages: number): void };
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: unknown };
}

/** Bytes of a page of its memory. */
export const PAGE = 65_536;

/** Null where this machine has none. */
export function assemblyHere(): Assembly | null {
  return (globalThis as { WebAssembly?: Assembly }).WebAssembly ?? null;
}
