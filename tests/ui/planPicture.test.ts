/** Pictures of a plan: scale from two points against hand arithmetic, moved and turned by one step, kept with the scene. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyCommand, type Command } from '../../src/scene/commands';
import { formatFault, loadScene } from '../../src/scene/load';
import { pictureCorners } from '../../src/scene/planPictures';
import { saveScene } from '../../src/scene/save';
import type { Point2, SceneDocument } from '../../src/scene/schema';
import { MOST_PICTURE_CHARS, type PlanPicture } from '../../src/scene/schemaPlan';
import { commandFor } from '../../src/ui/tools/commandFor';
import { moveEdit, turnEdit } from '../../src/ui/tools/edits';
import { placedPicture, scaledByTwoPoints } from '../../src/ui/tools/planPicture';
import { createSceneToSolve } from '../../src/ui/stores/sceneToSolve';
import { tinyScene } from './tinyScene';

const DOT =
  'data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==';
/** 1000 x 500 px at a centimetre a pixel: 10 x 5 m about (3, 2). */
const picture: PlanPicture = {
  name: 'Survey',
  image: DOT,
  widthPx: 1000,
  heightPx: 500,
  metresPerPixel: 0.01,
  positionM: [3, 2, 0],
};
const REF = { kind: 'picture', id: 'survey' } as const;
const withPicture = (change: Partial<PlanPicture> = {}): SceneDocument => ({
  ...tinyScene(),
  pictures: { survey: { ...picture, ...change } },
});
const done = (scene: SceneDocument, command: Command | null): SceneDocument => {
  const result = applyCommand(scene, command!);
  if (!result.ok) throw new Error(result.fault);
  return result.document;
};

describe('two points and their distance', () => {
  test('by hand: 200 px apart that are truly 5 m make 25 mm a pixel, and the first point stays', () => {
    // Pressed at (1, 2) and (3, 2): 2 m at 10 mm a pixel, so 200 px. 5 m / 200 px = 0.025 m a pixel.
    const scaled = scaledByTwoPoints(picture, [1, 2], [3, 2], 5);
    // The middle lies 2 m right of the first point at the old scale, so 2 * 2.5 = 5 m at the new one: x = 1 + 5.
    expect(scaled).toEqual({ ok: true, fields: { metresPerPixel: 0.025, positionM: [6, 2, 0] } });
  });

  test('refused: one spot twice, and no distance', () => {
    expect(scaledByTwoPoints(picture, [1, 2], [1, 2.0001], 5).ok).toBe(false);
    expect(scaledByTwoPoints(picture, [1, 2], [3, 2], 0).ok).toBe(false);
    expect(scaledByTwoPoints(picture, [1, 2], [3, 2], Number.NaN).ok).toBe(false);
  });

  const place = fc.integer({ min: -9000, max: 9000 }).map((mm) => mm / 1000);
  test('property: however it is turned, the two dots of the picture come to lie that far apart', () =>
    fc.assert(
      fc.property(place, place, place, place, fc.integer({ min: -180, max: 180 }), (x0, y0, x1, y1, turnDeg) => {
        const [from, to]: Point2[] = [
          [x0, y0],
          [x1, y1],
        ];
        fc.pre(Math.hypot(x1 - x0, y1 - y0) > 0.1);
        const before = { ...picture, turnDeg };
        const scaled = scaledByTwoPoints(before, from!, to!, 4);
        if (!scaled.ok) throw new Error(scaled.fault);
        const after = { ...before, ...scaled.fields };
        // Where a dot of the picture goes: through its place in the picture's own corners.
        const moved = (at: Point2): Point2 => {
          const [a, b, , d] = pictureCorners(before) as [Point2, Point2, Point2, Point2];
          const [A, B, , D] = pictureCorners(after) as [Point2, Point2, Point2, Point2];
          const [ux, uy, vx, vy] = [b[0] - a[0], b[1] - a[1], d[0] - a[0], d[1] - a[1]];
          const det = ux * vy - uy * vx;
          const [px, py] = [at[0] - a[0], at[1] - a[1]];
          const [u, v] = [(px * vy - py * vx) / det, (ux * py - uy * px) / det];
          return [A[0] + u * (B[0] - A[0]) + v * (D[0] - A[0]), A[1] + u * (B[1] - A[1]) + v * (D[1] - A[1])];
        };
        const [first, second] = [moved(from!), moved(to!)];
        // Places are kept to a tenth of a millimetre.
        expect(Math.hypot(first[0] - x0, first[1] - y0)).toBeLessThan(1e-4);
        expect(Math.abs(Math.hypot(second[0] - first[0], second[1] - first[1]) - 4)).toBeLessThan(1e-6);
      }),
    ));
});

describe('on the plan', () => {
  test('corners by hand, upright and turned a quarter clockwise', () => {
    expect(pictureCorners(picture)).toEqual([
      [-2, 4.5],
      [8, 4.5],
      [8, -0.5],
      [-2, -0.5],
    ]);
    // Clockwise from above the left side goes up: the upper left corner (-5, 2.5) turns to (2.5, 5).
    expect(pictureCorners({ ...picture, turnDeg: 90 })[0]).toEqual([5.5, 7]);
  });

  test('a new one lies over the middle of the set, as long as the set is', () => {
    // The tiny scene's floor is 7 x 5 m from the origin: middle (3.5, 2.5), 7 m over 1000 px.
    expect(placedPicture(tinyScene(), 'Plan picture', picture)).toEqual({
      name: 'Plan picture',
      image: DOT,
      widthPx: 1000,
      heightPx: 500,
      metresPerPixel: 0.007,
      positionM: [3.5, 2.5, 0],
    });
    expect(placedPicture({ ...tinyScene(), surfaces: {} }, 'P', picture)).toMatchObject({ metresPerPixel: 0.01 });
  });

  test('a drag and a turn are one command each; a locked one stays', () => {
    const scene = withPicture();
    const moved = done(scene, commandFor(scene, 'a', moveEdit(scene, 'a', REF, [1, -0.5, 0], 0.01)!));
    expect(moved.pictures?.['survey']?.positionM).toEqual([4, 1.5, 0]);
    const turned = done(scene, commandFor(scene, 'a', turnEdit(scene, 'a', REF, 'pan', 12.34)!));
    expect(turned.pictures?.['survey']?.turnDeg).toBe(12.3);
    expect(moveEdit(withPicture({ locked: true }), 'a', REF, [1, 0, 0], 0.01)).toBeNull();
    expect(turnEdit(withPicture({ locked: true }), 'a', REF, 'pan', 10)).toBeNull();
  });

  test('the solver is not asked again for what no light falls on', () => {
    const toSolve = createSceneToSolve();
    const scene = withPicture();
    const first = toSolve(scene);
    expect(first).toStrictEqual(tinyScene());
    expect(toSolve(withPicture({ opacity: 0.1, ...{} }))).not.toBe(first); // other surfaces, though equal ones
    const again = toSolve(scene);
    expect(toSolve({ ...scene, pictures: { survey: { ...picture, opacity: 0.2 } } })).toBe(again);
    expect(toSolve({ ...scene, meters: {} })).not.toBe(again);
    const bare = tinyScene();
    expect(toSolve(bare)).toBe(bare);
  });
});

describe('kept with the scene', () => {
  const faults = (scene: unknown): string[] => {
    const loaded = loadScene(JSON.stringify(scene), 'x.json');
    return loaded.ok ? [] : loaded.faults.map(formatFault);
  };
  test('round trip through a file, and a scene from before there were pictures opens as it was', () => {
    const scene = withPicture({ turnDeg: 3, opacity: 0.3, hidden: true, locked: true, keepsColours: true });
    expect(loadScene(saveScene(scene), 'x.json')).toStrictEqual({ ok: true, document: scene });
    expect(loadScene(saveScene(tinyScene()), 'x.json')).toStrictEqual({ ok: true, document: tinyScene() });
  });
  test.each([
    ['data:image/svg+xml;base64,PHN2Zy8+', 'a PNG, JPEG or WebP picture as a data URL'],
    ['https://example.org/plan.png', 'a PNG, JPEG or WebP picture as a data URL'],
    [`data:image/png;base64,${'A'.repeat(MOST_PICTURE_CHARS)}`, `at most ${MOST_PICTURE_CHARS} characters`],
  ])('a file with %.30s is refused in one line', (image, expected) => {
    const lines = faults({ ...tinyScene(), pictures: { survey: { ...picture, image } } });
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain('pictures.survey.image');
    expect(lines[0]).toContain(expected);
    expect(lines[0]!.length).toBeLessThan(250);
  });
  test('one larger than what is kept is refused', () =>
    expect(faults(withPicture({ widthPx: 2049 }))[0]).toContain('a number of at most 2048'));
});
