import { expect, test } from 'vitest';
import { complaintIn } from '../../src/clip/ffmpeg.js';

test.each([
  ['[h264 @ 0x55b984623440] no frame!\n[h264 @ 0x55b984623440] more', 'no frame!'],
  ['[NULL @ 0x55e9d1f0] Invalid NAL unit 0', 'Invalid NAL unit 0'],
  ['[vist#0:0/h264 @ 0x1] [dec:h264 @ 0x2] Error submitting packet', 'Error submitting packet'],
  ['\n    Last message repeated 3 times\n[aac @ 0x7] too short', 'too short'],
  ['file:a [b].mp4: No such file', 'file:a [b].mp4: No such file'],
  ['', ''],
])('what a decoder complains of, without where in its memory it did: %j', (said, told) => {
  expect(complaintIn(said)).toBe(told);
});
