import { describe, expect, test } from 'vitest';
import { measure } from '../../../src/diagnose/triggers/measures/measures.js';
import { sentenceFor } from '../../../src/diagnose/triggers/sentences.js';
import { drawnFrames, lookAt } from './measures/looks.js';

const measured = measure(lookAt(drawnFrames({ conditions: { wind: 5, rain: 0, light: 9000 } }, 20), 50, 320));
const told = (cause: 'wind' | 'shake' | 'unknown', likeliest = cause) => ({
  cause,
  likeliest,
  probability: 0.8,
});
const place = (change: Partial<typeof measured.place>) => ({
  ...measured,
  place: { ...measured.place, ...change },
});

describe('the sentence of evidence', () => {
  test('says how often the place changed, how fast, and that it came back', () => {
    const m = place({
      times: 41,
      seconds: 24,
      remains: 0.1,
      rhythm: { hertz: 1.31, share: 0.6, limit: 2.5 },
    });
    expect(sentenceFor(told('wind'), m, 10)).toMatch(
      /^The same patch has changed 41 times in 24 s at about 1\.3 Hz, and returns to where it was; /,
    );
  });

  test('says that a rhythm near half the frame rate cannot be told', () => {
    const m = place({ rhythm: { hertz: 2.4, share: 0.6, limit: 2.5 } });
    expect(sentenceFor(told('wind'), m, 10)).toContain('too fast to tell the rhythm at 5 frames a second');
  });

  test('names no rhythm where there is none', () => {
    const m = place({ rhythm: { hertz: 1.3, share: 0.1, limit: 2.5 } });
    expect(sentenceFor(told('wind'), m, 10)).toContain('without a steady rhythm');
  });

  test('says what a guess would be where no cause stands out, and that it is one', () => {
    expect(sentenceFor({ cause: 'unknown', likeliest: 'rain', probability: 0.4 }, measured, 10)).toMatch(
      /^Nothing stands out: rain is likeliest, and no more than a guess; /,
    );
  });

  test('gives the shift of a shaken picture in pixels', () => {
    const m = { ...measured, wholeShift: { x: 3, y: 4, explains: 0.87 } };
    expect(sentenceFor(told('shake'), m, 10)).toBe(
      'The whole picture moved by 5 pixels, which explains 87 % of the change.',
    );
  });
});
