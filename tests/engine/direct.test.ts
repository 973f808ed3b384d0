import { describe, expect, it } from 'vitest';
import { type DirectOptions, DirectReplay } from '../../src/engine/direct.js';

const PIXEL: DirectOptions = {
  width: 1,
  height: 1,
  smooth: 0,
  reference: { kind: 'previous', lag: 1 },
  whileBusy: 'continues',
  area: 'region',
  mask: null,
  threshold: 10,
  minimumArea: 1,
  mostChanged: 1,
  persistence: 1,
  busy: 2,
};

/** The frames that fire of a one-pixel recording, one second from frame to frame. */
function fired(options: Partial<DirectOptions>, values: number[]): number[] {
  const replay = new DirectReplay({ ...PIXEL, ...options });
  return [...values.keys()].filter((k) => replay.step(Uint8Array.of(values[k]!), k));
}

describe('the reference while busy', () => {
  const STEPS = [0, 50, 50, 90, 90, 90];

  it('continues: the step during the busy time is seen at its end', () => {
    // 1: 50 against 0. 3: 90 against 50. 5: 90 against 90.
    expect(fired({ whileBusy: 'continues' }, STEPS)).toEqual([1, 3]);
  });

  it('frozen: stands at the frame before the trigger, so that what stays in view fires again', () => {
    // 1, 3 and 5 all against 0.
    expect(fired({ whileBusy: 'frozen' }, STEPS)).toEqual([1, 3, 5]);
  });

  it('restarts: the first idle frame is the new first frame', () => {
    // 1 against 0; 3 begins anew; 4 and 5 against 90.
    expect(fired({ whileBusy: 'restarts' }, STEPS)).toEqual([1]);
  });

  it('restarts: goes on from that frame', () => {
    // 3 begins anew with 90; 4: 20 against 90.
    expect(fired({ whileBusy: 'restarts' }, [0, 50, 50, 90, 20, 20])).toEqual([1, 4]);
  });

  it('restarts even without busy time, with the next frame', () => {
    // 1: 50 against 0. 2 begins anew; 3: 50 against 0.
    expect(fired({ whileBusy: 'restarts', busy: 0 }, [0, 50, 0, 50])).toEqual([1, 3]);
  });

  it('frozen: the frames of the busy time never enter the history', () => {
    // Lag 2. 1: 50 against 0 fires, 2 is not seen. 3: 5 against 0, then the history is 0, 5. 4: 14 against 0 fires.
    // Had 1 and 2 entered, 4 would be compared with 15.
    const reference = { kind: 'previous', lag: 2 } as const;
    expect(fired({ whileBusy: 'frozen', reference }, [0, 50, 15, 5, 14])).toEqual([1, 4]);
    expect(fired({ whileBusy: 'continues', reference }, [0, 50, 15, 5, 14])).toEqual([1, 3]);
  });

  it('frozen: an average goes on from where it stood by the time since the last frame alone', () => {
    // It halves the distance each second. 1: 100 against 0 fires. 3: 50 against 0 does not, and moves it to 25.
    // 4: 90 against 25 fires; had it moved by three seconds' worth, it would stand at 43.75.
    const reference = { kind: 'average', seconds: 1 / Math.LN2 } as const;
    expect(fired({ whileBusy: 'frozen', reference, threshold: 60 }, [0, 100, 80, 50, 90])).toEqual([1, 4]);
  });
});

describe('the area', () => {
  // biome-ignore format: a grid
  const two = Uint8Array.of(
    30, 30, 0,  0,
     0,  0, 0, 30,
     0,  0, 0, 30,
     0,  0, 0, 30,
  );
  const square: Partial<DirectOptions> = { width: 4, height: 4, minimumArea: 1, mostChanged: 16 };

  function measured(options: Partial<DirectOptions>): { fires: boolean; area: number } {
    const replay = new DirectReplay({ ...PIXEL, ...square, ...options });
    replay.step(new Uint8Array(16), 0);
    return { fires: replay.step(two, 1), area: replay.lastArea };
  }

  it('is that of the largest region', () => {
    expect(measured({ minimumArea: 3 })).toEqual({ fires: true, area: 3 });
    expect(measured({ minimumArea: 4 })).toEqual({ fires: false, area: 3 });
  });

  it('or of all changed pixels', () => {
    expect(measured({ area: 'changed', minimumArea: 5 })).toEqual({ fires: true, area: 5 });
    expect(measured({ area: 'changed', minimumArea: 6 })).toEqual({ fires: false, area: 5 });
  });

  it('is held against the maximum with all changed pixels in either case', () => {
    expect(measured({ mostChanged: 4 }).fires).toBe(false);
    expect(measured({ mostChanged: 5 }).fires).toBe(true);
  });

  it('leaves out what is masked', () => {
    const mask = Uint8Array.from({ length: 16 }, (_, i) => (i % 4 === 3 ? 1 : 0));
    expect(measured({ mask }).area).toBe(2);
  });

  it('counts from a threshold that need not be whole', () => {
    expect(measured({ threshold: 29.5 }).area).toBe(3);
    expect(measured({ threshold: 30.5 }).area).toBe(0);
  });

  it('is taken after smoothing', () => {
    // The corner becomes (4 + 2) * 30 / 9 = 20, and so do the lower two of the bar; the rest is fainter.
    expect(measured({ smooth: 1, threshold: 20 }).area).toBe(2);
    expect(measured({ smooth: 1, threshold: 21 }).area).toBe(0);
  });
});
