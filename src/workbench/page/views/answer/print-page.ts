/** Between two looks whether it has come: a report takes seconds to draw. */
const EVERY_MS = 100;

/**
 * Opens a page of this server in a window of its own, and prints it once it is there. What is opened holds no script, so it
 * is told from here.
 * @returns whether a window opened
 */
export async function printPage(address: string): Promise<boolean> {
  const opened = window.open(address, '_blank');
  if (!opened) return false;
  // At first there is an empty page, which is complete at once.
  while (!opened.closed && !isThere(opened)) await new Promise((go) => setTimeout(go, EVERY_MS));
  if (!opened.closed) opened.print();
  return true;
}

function isThere({ document, location }: Window): boolean {
  return location.href !== 'about:blank' && document.readyState === 'complete';
}
