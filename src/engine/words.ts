/** Whether the first byte of a word is its lowest: on all machines that Node runs on, but for a few large ones. */
export const LITTLE_ENDIAN = new Uint8Array(Uint32Array.of(1).buffer)[0] === 1;

/** Whether bytes begin at a word, so that they can be taken four at a time. */
export function isAligned({ byteOffset }: Uint8Array): boolean {
  return byteOffset % 4 === 0;
}

/**
 * The same memory as whole words; bytes left over at the end are not in it.
 * @param bytes must begin at a word
 */
export function wordsOf({ buffer, byteOffset, length }: Uint8Array): Int32Array {
  return new Int32Array(buffer, byteOffset, length >> 2);
}
