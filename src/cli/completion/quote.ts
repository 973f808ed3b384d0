/** A text as one word of any of the shells that closes its quotation mark for one of the text's own. */
export function quotedWord(text: string): string {
  return `'${text.replaceAll("'", `'\\''`)}'`;
}
