import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { beaufortSpeed } from '../../src/weather/wind/beaufort.js';
import { deflection, drag, dragGrowth, dragLaw, dragTable } from '../../src/weather/wind/drag.js';
import { flutterLevel } from '../../src/weather/wind/flutter.js';
import { Gusts } from '../../src/weather/wind/gusts.js';
import { Oscillators } from '../../src/weather/wind/oscillator.js';
import { siteWind } from '../../src/weather/wind/profile.js';
import { periodogram } from './periodogram.js';

const law = dragLaw();

describe('drag on leafy branches', () => {
  it('is rho C A U^2 / 2 over mass while nothing gives way', () => {
    // 1.225 kg/m3 (ISO 2533), 1 m2/kg, 2 m/s: 2.45 m/s2.
    expect(drag(2, { area: 1, vogel: 0, givesWay: 5 })).toBeCloseTo(2.45, 6);
  });

  it('grows as U^2 in light wind (quasi-steady drag)', () => {
    const light = law.givesWay / 50;
    expect(drag(2 * light, law) / drag(light, law)).toBeCloseTo(4, 2);
  });

  // Vogel exponents of -0.4 to -1 (Vogel 1989, from memory): between U^1 and U^1.6 at high speed.
  it.each([-0.4, -0.7, -1])('grows as U^(2 + E) in strong wind, E = %f', (vogel) => {
    const at = (speed: number) => drag(speed, { ...law, vogel });
    expect(Math.log2(at(200) / at(100))).toBeCloseTo(2 + vogel, 2);
    expect(dragGrowth(200, { ...law, vogel })).toBeCloseTo(2 + vogel, 2);
  });

  // Crowns of three conifers and five broadleaves in a wind tunnel, 4 to 20 m/s (Rudnicki et al. 2004, Can. J. For. Res.
  // 34:666-676; Vollsinger et al. 2005, 35:1238-1249; from memory): about in proportion to the wind.
  it.each([4, 8, 20])('as assumed grows between U^1 and U^1.6 at %f m/s already', (speed) => {
    expect(dragGrowth(speed, law)).toBeGreaterThan(1);
    expect(dragGrowth(speed, law)).toBeLessThan(1.6);
  });

  it('as assumed grows between U^1 and U^1.6 in strong wind', () => {
    expect(dragGrowth(40, law)).toBeGreaterThan(1);
    expect(dragGrowth(40, law)).toBeLessThan(1.6);
  });

  it.each([0, 0.013, 1.77, 9.999, 33.3])('is the same by table at %f m/s', (speed) => {
    expect(Math.abs(dragTable(law)(speed) - drag(speed, law))).toBeLessThan(1e-4);
  });

  it.each([0.5, 3, 8, 20])('tells its growth at %f m/s as its slope in logarithms', (speed) => {
    const slope = Math.log(drag(speed * 1.001, law) / drag(speed, law)) / Math.log(1.001);
    expect(dragGrowth(speed, law)).toBeCloseTo(slope, 2);
  });
});

/** Tip of a branch of 1.2 Hz, metres, over ten minutes at the site in a wind, and its spectrum. */
function tipIn(beaufort: number) {
  const step = 0.05;
  const wind = siteWind(beaufortSpeed(beaufort), 2, 0.8);
  const length = 1 << 10;
  const spectra = Array.from({ length: 6 }, (_, p) => {
    const gusts = new Gusts(wind, step, [0], seedrandom(`tip ${p}`));
    const branch = new Oscillators([{ frequency: 1.2, damping: 0.1 }], step);
    branch.start([drag(wind.mean, law)]);
    const tip = new Float64Array(1 << 14);
    for (let i = 0; i < tip.length; i++, gusts.advance()) {
      branch.advance([drag(gusts.speeds[0]!, law)]);
      tip[i] = deflection(branch.displacement[0]!, 1.2);
    }
    return periodogram(tip, length, step);
  });
  const spacing = 1 / (length * step);
  const power = (hertz: number) => {
    const [from, to] = [Math.round((hertz * 0.85) / spacing), Math.round((hertz * 1.15) / spacing)];
    let sum = 0;
    for (let i = from; i <= to; i++) for (const s of spectra) sum += s[i]!;
    return sum / (to - from + 1);
  };
  const variance = spectra.reduce((a, s) => a + s.slice(3).reduce((b, v) => b + v, 0) * spacing, 0) / 6;
  return { power, deviation: Math.sqrt(variance), mean: wind.mean };
}

describe('a branch in gusts', () => {
  const tips = new Map([3, 4, 5, 6, 7].map((b) => [b, tipIn(b)] as const));
  const tip = (beaufort: number) => tips.get(beaufort)!;

  it.each([
    [3, 4],
    [4, 5],
    [5, 6],
    [6, 7],
  ])('sways more from Beaufort %i to %i by a power of the speed from 1 to 2.4', (low, high) => {
    // One turbulence intensity: U^2 where drag is quasi-steady, U^1 to U^1.6 where it gives way, and U^(1/3) more where
    // the spectrum of Kaimal et al. 1972 passes more of its variance to the branch's own frequency.
    const power =
      Math.log(tip(high).deviation / tip(low).deviation) / Math.log(tip(high).mean / tip(low).mean);
    expect(power).toBeGreaterThan(1);
    expect(power).toBeLessThan(2.4);
  });

  it('has a spectrum of one slope from medium to high wind (Jackson et al. 2021)', () => {
    const slope = (b: number) => Math.log(tip(b).power(6) / tip(b).power(2)) / Math.log(3);
    // Above its own frequency: that of the gusts, -5/3, and of a spring, -4.
    for (const b of [4, 5, 6, 7]) expect(Math.abs(slope(b) - slope(4))).toBeLessThan(0.4);
    expect(slope(6)).toBeLessThan(-4);
  });

  it('depends strongly on the wind where leaf flutter depends weakly (Tadrist et al. 2018)', () => {
    const flutter = (b: number) => flutterLevel(tip(b).mean);
    // Strongly: by more than in proportion. Weakly: by less, and with less than half of that power.
    const power = (ratio: number) => Math.log(ratio) / Math.log(tip(6).mean / tip(3).mean);
    const branches = power(tip(6).deviation / tip(3).deviation);
    expect(branches).toBeGreaterThan(1);
    expect(power(flutter(6) / flutter(3))).toBeLessThan(Math.min(0.7, branches / 2));
  });
});
