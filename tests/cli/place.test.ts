/** `farsun place` in the manner of the other commands. */
import { describe, expect, test, vi } from 'vitest';
import { runCommandLine } from '../../src/cli/run';
import { SAFETY_LINE } from '../../src/cli/reportText';

// Searches of a hundred simulations: slow on a busy machine, and how long is the bench's business.
vi.setConfig({ testTimeout: 600_000 });

const SCENE = 'scenes-demo/customs-office-shaft.json';
const WHERE = ['--surface', 'plaster-wall', '--opening', 'west-wall/window', '--within', '2', '--no-nets'];

async function farsun(...words: string[]): Promise<{ code: number; out: string; err: string }> {
  let [out, err] = ['', ''];
  const code = await runCommandLine(words, { out: (text) => (out += text), err: (text) => (err += text) });
  return { code, out, err };
}

describe('place', () => {
  test('--json: the placement with its figures and its setup, what cannot be had, no figure without a number', async () => {
    const call = ['place', SCENE, ...WHERE, '--lamps', 'point-head-36', '--t-stop', '32', '--highest', '2.2', '--json'];
    const { code, out, err } = await farsun(...call);
    expect([code, err]).toEqual([0, '']);
    const answer = JSON.parse(out) as {
      possible: boolean;
      cannot: string[];
      placement: Record<string, unknown>;
    };
    expect(Object.keys(answer)).toEqual(['possible', 'sentence', 'cannot', 'tried', 'placement']);
    expect(answer.placement).toMatchObject({ kitId: 'point-head-36', level: 1, nets: [] });
    expect(answer.placement['lensHeightM']).toBeLessThanOrEqual(2.2 + 1e-6);
    expect(answer.possible).toBe(false);
    for (const [key, value] of Object.entries(answer.placement)) {
      if (value === null) expect(answer.placement).toHaveProperty(`${key}Reason`);
    }
    expect(answer.cannot[0]).toMatch(/^No lamp of the kit reaches T32 .* short; T\d+(\.\d)? would do\.$/);
  });

  test('a sun that does not come in: said in words and as JSON, exit 0', async () => {
    const sun = ['--altitude', '20', '--azimuth', '90'];
    const text = await farsun('place', SCENE, ...WHERE, ...sun);
    expect(text.code).toBe(0);
    expect(text.out).toContain('Cannot be had\n  The story’s sun stands on the room’s side of this window');
    expect(text.out.trimEnd().endsWith(SAFETY_LINE)).toBe(true);
    const json = JSON.parse((await farsun('place', SCENE, ...WHERE, ...sun, '--json')).out) as Record<string, unknown>;
    expect(json).toMatchObject({ possible: false, placement: null, placementReason: json['sentence'] });
  });

  test('a wrong call: exit 2, one line that names what there is', async () => {
    for (const [words, said] of [
      [['--opening', 'west-wall/window', '--within', '4'], '--surface is missing'],
      [['--surface', 'plaster-wall', '--within', '4'], '--opening is missing; the scene has west-wall/window'],
      [['--surface', 'plaster-wall', '--opening', 'west-wall/window'], '--within is missing'],
      [[...WHERE, '--within', 'far'], '--within must be a number from 1 to 200, not "far"'],
      [[...WHERE, '--opening', 'door'], 'no opening "door" in this scene; it has west-wall/window'],
      [[...WHERE, '--altitude', '10'], '--altitude and --azimuth go together'],
      [[...WHERE, '--lamps', 'torch'], 'no lamp "torch" in the kit; it has point-head-36, point-head-19'],
    ] as const) {
      const answer = await farsun('place', SCENE, ...words);
      expect([answer.code, answer.out]).toEqual([2, '']);
      expect(answer.err).toMatch(/^farsun: .*\n$/);
      expect(answer.err).toContain(said);
    }
    expect((await farsun('place', 'none.json', ...WHERE)).code).toBe(1);
    expect((await farsun('place', '--help')).out).toContain('farsun place <scene.json>');
  });
});
