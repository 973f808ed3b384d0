/** Whether there is somebody at a terminal who can see a browser's window. */
export function canShowPage(): boolean {
  const { DISPLAY, WAYLAND_DISPLAY } = process.env;
  const hasDisplay =
    ['darwin', 'win32'].includes(process.platform) ||
    [DISPLAY, WAYLAND_DISPLAY].some((name) => name !== undefined && name !== '');
  return process.stdin.isTTY === true && process.stdout.isTTY === true && hasDisplay;
}
