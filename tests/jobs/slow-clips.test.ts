import { expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import type { Clip } from '../../src/clip/open.js';
import { noteCoarseClips } from '../../src/jobs/open.js';
import type { OpenPorts } from '../../src/jobs/ports.js';

/** What is said of a clip of so many frames a second, to a camera that looks at so many. */
function said(rate: number, looks: number, width = 320, height = 240): string[] {
  const lines: string[] = [];
  const camera = { ...defaultCamera, analysis: { ...defaultCamera.analysis, rate: looks } };
  const ports = { onWarning: (line: string) => lines.push(line) } as unknown as OpenPorts;
  noteCoarseClips([{ dir: 'reeds', rate, width, height } as Clip], camera, ports);
  return lines;
}

it('says nothing of a rate that falls short of the camera by jitter or by how video is counted alone', () => {
  expect(said(4.9969, 5)).toEqual([]);
  expect(said(30_000 / 1001, 30)).toEqual([]);
});

it('says both rates of a clip that is slower than the camera', () => {
  expect(said(4.5, 5).join()).toMatch(/^reeds: recorded at 4\.5 frames a second, default camera looks at 5:/);
});

it('says both sizes of a clip that is smaller than what the camera compares, whichever way', () => {
  expect(said(5, 5, 3, 7).join()).toMatch(
    /^reeds: recorded at 3 x 7 pixels, default camera compares 320 x 240: the recording is enlarged, /,
  );
  expect(said(5, 5, 319, 480)).toHaveLength(1);
  expect(said(5, 5, 640, 239)).toHaveLength(1);
});
