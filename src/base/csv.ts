/** A cell of CSV: in quotation marks where it must be (RFC 4180), and where a spreadsheet may take a separator in it for its own. */
export function csvCell(text: string): string {
  return /[",;\t\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
