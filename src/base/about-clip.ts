/**
 * Where what clip.json says may be said, for whoever writes files and whoever uses the page of `perchmark open`.
 * @param fields as the file names them, such as conditions.wind
 */
export function inClipJson(fields: string): string {
  return `in clip.json (${fields}), or on the page under "About this clip"`;
}
