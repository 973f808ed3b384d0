import { describe, expect, it } from 'vitest';
import type { DialEnd } from '../../src/jobs/tune/dial-ends.js';
import { endsText } from '../../src/words/dial-ends.js';
import { tuned } from '../report/example.js';

const area: DialEnd = { dial: 'minimumArea', position: 25, inward: 'worse' };
const sensitivity: DialEnd = { dial: 'sensitivity', position: 10, inward: 'unknown' };

describe('where dials end, in words', () => {
  it('says that nothing is known beyond, and what to do', () => {
    expect(endsText([{ ...tuned, ends: [area] }])).toBe(
      'The dial ends at minimumArea 25: whether going further would be better is not known. If your camera can, let it go further in camera.json (on the page in Camera), and try again.',
    );
    expect(endsText([{ ...tuned, ends: [area, sensitivity] }])).toMatch(
      /^The dials end at minimumArea 25 and sensitivity 10: .* let them go further/,
    );
  });

  it('says of several sites where it is so, each end once', () => {
    const sites = [
      { ...tuned, site: 'log pile', ends: [area] },
      { ...tuned, site: 'water bowl', ends: [] },
      { ...tuned, site: 'compost heap', ends: [sensitivity, area] },
    ];
    expect(endsText(sites)).toMatch(
      /^The dials end at minimumArea 25 \(log pile, compost heap\) and sensitivity 10 \(compost heap\):/,
    );
  });

  it('names the only site that can be told of, where there are others', () => {
    const sites = [
      { ...tuned, site: 'log pile', ends: [area] },
      { ...tuned, site: 'water bowl', tells: 'too little' as const, ends: [sensitivity] },
    ];
    expect(endsText(sites)).toMatch(/^The dial ends at minimumArea 25 \(log pile\):/);
  });

  it('says nothing where no dial bounds it, or there is too little to tell', () => {
    expect(endsText([{ ...tuned, ends: [] }])).toBeNull();
    expect(endsText([{ ...tuned, tells: 'too little', ends: [area] }])).toBeNull();
  });
});
