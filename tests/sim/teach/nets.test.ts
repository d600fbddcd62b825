/** The exercise of nets and half scrims against the independent rake and against the lens summed point by point here. */
import { describe, expect, test } from 'vitest';
import { nets } from '../../../src/sim/teach/exercises/nets';
import hall from '../../reference/drill-hall-falloff.json';
import { judged, roundAt, rowOf } from './scenes';

describe('half scrim and staggered nets', () => {
  const { bareLux, nettedLux, metersAtX, stepStopsPer10cm } = hall.rake;
  test('levels bare and netted by the reference', () => {
    const { chart } = roundAt(nets, 'which-tool', 0.5).reveal();
    const dots = chart.series.find(({ id }) => id === 'dots')!.points;
    metersAtX.forEach((x, i) => {
      expect(dots[i]![0]).toBeCloseTo(x, 9);
      expect(Math.abs(dots[i]![1] / nettedLux[i]! - 1)).toBeLessThan(1e-3);
    });
    expect(roundAt(nets, 'which-tool', 0.5).question).toMatch(/722.lx .* 301.lx/);
    expect(Math.log2(bareLux[0]! / bareLux[2]!)).toBeCloseTo(1.261, 3);
    expect(rowOf(roundAt(nets, 'which-tool', 0.5).reveal(), 'bare')).toBeCloseTo(
      Math.log2(bareLux[0]! / bareLux[2]!),
      3,
    );
  });
  test('the step of the staggered nets is the reference’s, and grows as they move out', () => {
    const step = (firstM: number): number => {
      const said = /steepest step (\d\.\d\d)/.exec(roundAt(nets, 'which-tool', firstM).reveal().words[0]!)?.[1];
      return Number(said);
    };
    expect(Math.abs(step(0.5) - stepStopsPer10cm)).toBeLessThan(0.02);
    expect(step(1.5)).toBeGreaterThan(0.1);
    expect(step(1.5)).toBeGreaterThan(step(1));
  });
  test.each([0.5, 1, 1.5])('first net at %d m: the netted wall by points of the lens, by hand', (firstM) => {
    // On the plan: forward along the beam, lateral towards the near end. The nets hang square to the beam, their free
    // edges 10, -45 and -105 mm towards the near end at 0.50, 0.65 and 0.80 m on the plan; the rig grows in proportion.
    const times = firstM / 0.5;
    const level = Math.hypot(3.3, 2.05);
    const [forward, lateral] = [
      [3.3 / level, -2.05 / level],
      [-2.05 / level, -3.3 / level],
    ] as const;
    const axisShare = level / Math.hypot(3.3, 2.05, 0.75);
    const hangs = [
      { s: 0.5, edge: 0.01, passes: 0.5 },
      { s: 0.65, edge: -0.045, passes: Math.SQRT1_2 },
      { s: 0.8, edge: -0.105, passes: Math.SQRT1_2 },
    ];
    const shareAt = (x: number): number => {
      const [dx, dy] = [x + 3.5, -3.85];
      const [far, aside] = [dx * forward[0] + dy * forward[1], dx * lateral[0] + dy * lateral[1]];
      let [sum, weight] = [0, 0];
      for (let i = 0; i < 300; i++) {
        const u = 0.06 * ((2 * i + 1) / 300 - 1);
        for (let j = 0; j < 24; j++) {
          const v = 0.06 * ((2 * j + 1) / 24 - 1);
          if (u * u + v * v > 0.06 ** 2) continue;
          // The lens leans forward at its top, for the beam points down.
          const ahead = v * Math.sqrt(1 - axisShare ** 2);
          const offWallM = 3.85 + u * lateral[1] + ahead * forward[1];
          const light = offWallM / Math.hypot(far - ahead, aside - u, 1.3 + v * axisShare) ** 3;
          sum +=
            light *
            hangs.reduce((product, { s, edge, passes: one }) => {
              const at = (s * times - ahead) / (far - ahead);
              return u + (aside - u) * at > edge * times ? product * one : product;
            }, 1);
          weight += light;
        }
      }
      return sum / weight;
    };
    const { series } = roundAt(nets, 'which-tool', firstM).reveal().chart;
    const [bare, netted] = [
      series.find(({ id }) => id === 'bare')!.points,
      series.find(({ id }) => id === 'curve')!.points,
    ];
    bare.forEach(([x, bareLx], i) => {
      // 300 by 24 points stand for the lens.
      expect(Math.abs(netted[i]![1] / bareLx / shareAt(x) - 1), `x ${x}`).toBeLessThan(0.003);
    });
  });
  test('a half scrim only dims a projection spot, and evens a lensed lantern', () => {
    const reveal = roundAt(nets, 'which-tool', 0.5).reveal();
    expect(Math.abs(rowOf(reveal, 'half double scrim in this spot') - rowOf(reveal, 'bare'))).toBeLessThan(0.15);
    expect(rowOf(reveal, 'half double scrim in the lantern')).toBeLessThan(0.6 * rowOf(reveal, 'a lensed lantern'));
    expect(rowOf(reveal, 'dimmed')).toBeCloseTo(rowOf(reveal, 'bare'), 9);
    expect(judged(nets, 'which-tool', 0.5, 'half-scrim').misconception).toBe('half-scrim-everywhere');
    expect(judged(nets, 'which-tool', 0.5, 'nets-far').misconception).toBe('nets-work-anywhere');
    expect(judged(nets, 'which-tool', 0.5, 'dim').isRight).toBe(false);
  });
});
