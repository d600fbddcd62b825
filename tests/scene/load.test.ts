import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatFault, loadScene, MAX_FAULTS } from '../../src/scene/load';
import { MIGRATIONS, migrate, type Migration } from '../../src/scene/migrations';
import { SCENE_FORMAT_VERSION } from '../../src/scene/schema';
import { saveScene } from '../../src/scene/save';
import { emptyScene } from '../../src/scene/emptyScene';
import { editedText, sampleScene } from './sample';

/** The lines of fault for a text, as the command line prints them. */
function faultLines(text: string): string[] {
  const result = loadScene(text, 'shaft.json');
  return result.ok ? [] : result.faults.map(formatFault);
}
// Edits reach into plain JSON, whose form is the very thing under test.
// eslint-disable-next-line @typescript-eslint/no-explicit-any
type Edit = (scene: any) => void;
const linesAfter = (edit: Edit): string[] => faultLines(editedText(edit));
const lampOf = (scene: unknown): Record<string, unknown> =>
  (scene as { setups: { sources: Record<string, Record<string, unknown>> }[] }).setups[0]?.sources['key-lamp'] ?? {};

test('the sample and the empty scene load, and save to equal documents', () => {
  for (const scene of [sampleScene(), emptyScene()]) {
    const loaded = loadScene(JSON.stringify(scene), 'x.json');
    expect(loaded).toStrictEqual({ ok: true, document: scene });
    expect(loadScene(saveScene(scene), 'x.json')).toStrictEqual({ ok: true, document: scene });
  }
});

test('a saved file has fields in the order of the schema, two spaces and a last line end', () => {
  const { camera, ...rest } = emptyScene();
  const text = saveScene({ camera, ...rest });
  expect(text).toBe(saveScene(emptyScene()));
  expect(text.startsWith('{\n  "format": "farsun-scene",\n  "formatVersion": 1,\n  "name": "New scene",')).toBe(true);
  expect(text.endsWith('}\n')).toBe(true);
});

describe('text that is not a scene', () => {
  test.each([
    ['', 'shaft.json, line 1: not JSON at column 1: found the end of the file, expected a value'],
    ['{\n"a": 1,}', 'shaft.json, line 2: not JSON at column 8: found }, expected a field name in double quotes'],
    ['{"a" 1}', 'shaft.json, line 1: not JSON at column 6: found 1, expected a colon after the field name'],
    ['{"a":1\n "b":2}', 'shaft.json, line 2: not JSON at column 2: found "b", expected a comma'],
    ['// note\n{}', 'shaft.json, line 1: not JSON at column 1: found // note, expected no comments'],
    ['[NaN]', 'shaft.json, line 1: not JSON at column 2: found NaN, expected a value as JSON writes it'],
    ['{} x', 'shaft.json, line 1: not JSON at column 4: found x, expected a value as JSON writes it'],
    ['[1.]', 'shaft.json, line 1: not JSON at column 2: found 1., expected more digits of the number'],
    ['"a', 'shaft.json, line 1: not JSON at column 1: found "a, expected a closing double quote on the same line'],
    [
      '\ufeff{}',
      'shaft.json, line 1: not JSON at column 1: found a byte order mark, expected a value as JSON writes it',
    ],
    ['[]', 'shaft.json, line 1: found an empty list, expected a scene, which is an object'],
    ['null', 'shaft.json, line 1: found null, expected a scene, which is an object'],
    ['{}', 'shaft.json, line 1, format: found nothing, expected "farsun-scene"'],
    ['{"format":\n"other"}', 'shaft.json, line 1, format: found "other", expected "farsun-scene"'],
    [
      '{"format":"farsun-scene","formatVersion":1.5}',
      'shaft.json, line 1, formatVersion: found 1.5, expected a whole number from 1 to 1',
    ],
    [
      '{"format":"farsun-scene",\n"formatVersion":4}',
      'shaft.json, line 2, formatVersion: made by a newer Farsun (format 4; this one reads up to 1). ' +
        'Update, then open it again.',
    ],
    ['['.repeat(100_000), 'shaft.json, line 1: found brackets nested more than 64 deep, expected at most 64'],
  ])('%#', (text, line) => expect(faultLines(text)).toEqual([line]));

  test('too long a text is refused unread', () => {
    expect(faultLines(' '.repeat(20_000_001))).toEqual(['shaft.json: found 20.1 MB, expected at most 20 MB']);
  });
  test('brackets inside text are not nesting', () => {
    expect(linesAfter((scene) => (scene.notes = '[{"'.repeat(200)))).toEqual([]);
  });
});

describe('one fault, one line', () => {
  test.each<[string, Edit, string]>([
    [
      'negative size',
      (s) => (s.surfaces.west.thicknessM = -0.2),
      'surfaces.west.thicknessM: found -0.2, expected a number of at least 0',
    ],
    [
      'no size',
      (s) => (s.surfaces.plaster.shape.widthM = 0),
      'surfaces.plaster.shape.widthM: found 0, expected a number above 0',
    ],
    [
      'unknown field',
      (s) => (s.camera.isoo = 1),
      'camera.isoo: found an unknown field, expected no field of this name',
    ],
    ['missing field', (s) => delete s.camera.iso, 'camera.iso: found nothing, expected a number'],
    [
      'wrong type in a tuple',
      (s) => ((lampOf(s) as { pose: { positionM: unknown[] } }).pose.positionM[1] = 'x'),
      'setups[0].sources.key-lamp.pose.positionM[1]: found "x", expected a number',
    ],
    ['null', (s) => (s.camera.tStop = null), 'camera.tStop: found null, expected a number'],
    ['not whole', (s) => (s.kit.spot.count = 1.5), 'kit.spot.count: found 1.5, expected a whole number'],
    ['record as list', (s) => (s.webs = [1]), 'webs: found a list of 1, expected an object'],
    [
      'bad id',
      (s) => (s.marks['Clerk 1'] = s.marks.clerk),
      'marks["Clerk 1"]: found "Clerk 1" as an id, expected an id of small letters, digits and hyphens, ' +
        'a letter first, at most 64 long',
    ],
    [
      'short list',
      (s) => (s.story.lampSpace.outsideM = [[]]),
      'story.lampSpace.outsideM[0]: found an empty list, expected a list of at least 3',
    ],
    [
      'unknown word',
      (s) => (s.meters.wall.receptor = 'round'),
      'meters.wall.receptor: found "round", expected one of "flat", "dome"',
    ],
    [
      'branch of a discriminated union',
      (s) => (lampOf(s)['output'] = { kind: 'candela', candela: -1 }),
      'setups[0].sources.key-lamp.output.candela: found -1, expected a number of at least 0',
    ],
    [
      'unknown branch',
      (s) => (lampOf(s)['emitter'] = { shape: 'ring' }),
      'setups[0].sources.key-lamp.emitter.shape: found "ring", expected one of "point", "disc", "rectangle", ' +
        '"tube", "sphere"',
    ],
    [
      'nearest aim',
      (s) => (s.meters.face.aim = { panDeg: 3 }),
      'meters.face.aim.tiltDeg: found nothing, expected a number',
    ],
    [
      'aim at too short a point',
      (s) => (s.meters.wall.aim = { atM: [1, 2] }),
      'meters.wall.aim.atM: found a list of 2, expected a list of at least 3',
    ],
    ['no aim at all', (s) => (s.meters.wall.aim = 5), 'meters.wall.aim: found 5, expected an object'],
    [
      'aim at itself',
      (s) => (s.meters.wall.aim.atM = [2, 5, 1.3]),
      'meters.wall.aim.atM: found its own position, expected a point away from it to look at',
    ],
    [
      'date off the calendar',
      (s) => (s.story.date = '2025-02-29'),
      'story.date: found "2025-02-29", expected a day of the calendar',
    ],
    ['date format', (s) => (s.story.date = 'May'), 'story.date: found "May", expected a date like 2025-10-18'],
    ['hour', (s) => (s.story.clock = '24:00'), 'story.clock: found "24:00", expected a time from 00:00 to 23:59'],
    [
      'sun played by nobody',
      (s) => (s.story.playsSun[0].sourceId = 'no-lamp'),
      'story.playsSun[0].sourceId: found "no-lamp", expected the id of a source in a setup',
    ],
    [
      'sun played on nothing',
      (s) => (s.story.playsSun[0].surfaceId = 'constructor'),
      'story.playsSun[0].surfaceId: found "constructor", expected the id of a surface',
    ],
    ['key meter', (s) => (s.story.keyMeterId = 'x'), 'story.keyMeterId: found "x", expected the id of a meter'],
    [
      'kit',
      (s) => (lampOf(s)['kitId'] = 'x'),
      'setups[0].sources.key-lamp.kitId: found "x", expected the id of a kit entry',
    ],
    [
      'circuit',
      (s) => (lampOf(s)['power'] = { circuitId: 'x' }),
      'setups[0].sources.key-lamp.power.circuitId: found "x", expected the id of a circuit',
    ],
    [
      'web',
      (s) => (lampOf(s)['distribution'] = { kind: 'web', webId: 'x' }),
      'setups[0].sources.key-lamp.distribution.webId: found "x", expected the id of a photometric file',
    ],
    [
      'text of a photometric file',
      (s) => (s.webs.old.text = s.webs.old.text.replace('4000 3500', '4000 -3500')),
      'webs.old.text: photometric file, line 9: found "-3500", expected candela from 0 to 1000000000000',
    ],
    [
      'output of a file without one',
      (s) => (lampOf(s)['output'] = { kind: 'file' }),
      'setups[0].sources.key-lamp.output: found the output of a file, expected a photometric file to take it from',
    ],
    [
      'group member',
      (s) => (s.groups.shaft.memberIds[1] = 'x'),
      'groups.shaft.memberIds[1]: found "x", expected the id of a thing in the scene',
    ],
    [
      'setup twice',
      (s) => (s.setups[1].id = 'a'),
      'setups[1].id: found "a", the id of setups[0] too, expected an id of its own',
    ],
    [
      'crossing outline',
      (s) =>
        (s.story.lampSpace.outsideM[0] = [
          [0, 0],
          [1, 1],
          [1, 0],
          [0, 1],
        ]),
      'story.lampSpace.outsideM[0]: found an outline that meets itself (edges from corners 0 and 2), ' +
        'expected an outline that does not cross or touch itself',
    ],
    [
      'repeated corner',
      (s) => s.surfaces.west.shape.outlineM.splice(2, 0, [5, 0]),
      'surfaces.west.shape.outlineM[2]: found the corner before it again, expected each corner once',
    ],
    [
      'spike in a judged area',
      (s) =>
        (s.surfaces.plaster.judgedAreaM = [
          [0, 0],
          [1, 0],
          [2, 0],
        ]),
      'surfaces.plaster.judgedAreaM[2]: found a spike, expected an outline that encloses an area',
    ],
    [
      'hole across the outline',
      (s) => (s.surfaces.west.shape.holesM[0][0] = [-1, 2]),
      'surfaces.west.shape.holesM[0]: found a hole that meets the outline, ' +
        'expected a hole clear of the outline and of other holes',
    ],
    [
      'hole outside',
      (s) =>
        (s.surfaces.west.shape.holesM[0] = [
          [6, 1],
          [7, 1],
          [6, 2],
        ]),
      'surfaces.west.shape.holesM[0]: found a hole outside the outline, expected a hole inside the outline',
    ],
    [
      'hole in a hole',
      (s) =>
        s.surfaces.west.shape.holesM.push([
          [0.28, 2.1],
          [0.32, 2.1],
          [0.3, 2.15],
        ]),
      'surfaces.west.shape.holesM[1]: found a hole in another hole, expected holes apart',
    ],
    [
      'opening outside',
      (s) => (s.surfaces.west.openings.quay.leftM = 4),
      'surfaces.west.openings.quay: found an opening that reaches outside its surface, ' +
        'expected an opening inside the outline of the surface',
    ],
    [
      'opening over a hole',
      (s) => (s.surfaces.west.openings.quay.leftM = 0.1),
      'surfaces.west.openings.quay: found an opening over a hole, expected an opening clear of the holes',
    ],
    [
      'opening over an opening',
      (s) =>
        (s.surfaces.west.openings.door = { leftM: 3.5, sillM: 0, shape: { kind: 'rectangle', widthM: 1, heightM: 2 } }),
      'surfaces.west.openings.door: found an opening over opening quay, expected openings clear of each other',
    ],
    [
      'bars',
      (s) => (s.surfaces.west.openings.quay.window = { columns: 2, rows: 1, barWidthM: 1.3 }),
      'surfaces.west.openings.quay.window: found bars and frame 1.3 m wide, expected less than the opening, 1.3 m wide',
    ],
    [
      'too many slats',
      (s) =>
        (s.surfaces.west.openings.quay.window = {
          columns: 1,
          rows: 1,
          barWidthM: 0,
          blind: { pitchM: 0.005, slatWidthM: 0.006, tiltDeg: 0 },
        }),
      'surfaces.west.openings.quay.window.blind.pitchM: found 360 slats, ' +
        'expected at most 300 slats: a pitch of 0.006 m or more',
    ],
    [
      'field angle inside the beam',
      (s) => (lampOf(s)['distribution'] = { kind: 'beam', beamAngleDeg: 30, fieldAngleDeg: 30 }),
      'setups[0].sources.key-lamp.distribution.fieldAngleDeg: found 30, expected an angle above the beam angle, 30',
    ],
    [
      'colour off the diagram',
      (s) => (lampOf(s)['colour'] = { x: 0.7, y: 0.7 }),
      'setups[0].sources.key-lamp.colour: found x + y of 1.4, expected x + y of at most 1',
    ],
    [
      'luminance of a point',
      (s) => Object.assign(lampOf(s), { emitter: { shape: 'point' }, output: { kind: 'luminance', luminanceCdM2: 9 } }),
      'setups[0].sources.key-lamp.output: found a luminance for a point, expected an emitter with an area',
    ],
    [
      'energy from nowhere',
      (s) =>
        (s.setups[0].modifiers['side-net'].material = {
          kind: 'diffusion',
          directTransmittance: 0.5,
          diffuseTransmittance: 0.75,
        }),
      'setups[0].modifiers.side-net.material: found transmittances of 1.25 together, expected at most 1 together',
    ],
  ])('%s', (_name, edit, line) => {
    const [only, ...others] = linesAfter(edit);
    expect(only?.replace(/^shaft\.json, line \d+, /, '')).toBe(line);
    expect(others).toEqual([]);
  });

  test('numbers are told as written, names twice over at the second', () => {
    const text = editedText(() => {}).replace('"tStop": 2.8', '"tStop": 1e999,\n"tStop": 1e999');
    expect(faultLines(text)).toEqual([
      'shaft.json, line 16, camera.tStop: found this name a second time, expected each name once',
      'shaft.json, line 16, camera.tStop: found 1e999, expected a finite number',
    ]);
  });
  test('a door may stand on the edge of its wall', () => {
    const door = { leftM: 0.5, sillM: 0, shape: { kind: 'rectangle', widthM: 1, heightM: 2 } };
    expect(linesAfter((scene) => (scene.surfaces.west.openings.door = door))).toEqual([]);
  });
  test('names that objects have by nature are safe', () => {
    const text = editedText(() => {}).replace('"iso": 800', '"__proto__": {"iso": 5}, "constructor": 1, "iso": 800');
    expect(faultLines(text)).toEqual([
      'shaft.json, line 12, camera.__proto__: found an unknown field, expected no field of this name',
      'shaft.json, line 12, camera.constructor: found an unknown field, expected no field of this name',
    ]);
    expect(linesAfter((scene) => (scene.meters.constructor = scene.meters.wall))).toEqual([]);
    const inRecord = editedText(() => {}).replace('"marks": {', '"marks": { "__proto__": 1,');
    expect(faultLines(inRecord)).toEqual([
      expect.stringMatching(/marks\.__proto__: found an unknown field, expected no field of this name$/),
    ]);
  });
  test('a fault is one line whatever the file holds', () => {
    const [line] = linesAfter((scene) => (scene.meters.wall.receptor = 'a\nb\u2028c\u202e"'));
    expect(line).toContain(String.raw`found "a\u000ab\u2028c\u202e""`);
  });
});

test('all faults in the order of their lines, with those of sound parts of a faulty file', () => {
  const lines = linesAfter((scene) => {
    scene.story.keyMeterId = 'x';
    scene.surfaces.plaster.shape.widthM = -1;
    scene.surfaces.west.openings.quay.leftM = 4;
    scene.setups[1].id = 'a';
    scene.camera.iso = 'fast';
  });
  expect(lines.map((line) => /line \d+, ([^:]*):/.exec(line)?.[1])).toEqual([
    'camera.iso',
    'story.keyMeterId',
    'surfaces.plaster.shape.widthM',
    'surfaces.west.openings.quay',
    'setups[1].id',
  ]);
  const numbers = lines.map((line) => Number(/line (\d+)/.exec(line)?.[1]));
  expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
  expect(numbers[0]).toBe(12);
});
test('a thing that is faulty itself is not also unknown', () => {
  expect(linesAfter((scene) => (scene.meters.face.receptor = 1))).toHaveLength(1);
});
test(`after ${MAX_FAULTS} faults the rest are counted`, () => {
  const lines = linesAfter((scene) => {
    for (let index = 0; index < 70; index++) scene.camera[`extra${index}`] = index;
  });
  expect(lines).toHaveLength(MAX_FAULTS + 1);
  expect(lines.at(-1)).toBe('shaft.json: and 20 more');
});

describe('migrations', () => {
  const steps: Migration[] = [
    (scene) => ({ ...scene, name: `${String(scene['title'])}!` }),
    ({ title: _old, ...scene }) => ({ ...scene, name: `${String(scene['name'])}!` }),
  ];
  test('there is a step for each version before this one', () => {
    expect(MIGRATIONS).toHaveLength(SCENE_FORMAT_VERSION - 1);
  });
  test('the loader runs each step after the file’s version, in order, and changes no input', () => {
    const { name: _name, ...rest } = emptyScene();
    const old = Object.freeze({ ...rest, title: 'Old' });
    expect(migrate(old, 1, steps)).toMatchObject({ name: 'Old!!', formatVersion: 3 });
    const loaded = loadScene(JSON.stringify(old), 'old.json', steps);
    expect(loaded).toStrictEqual({ ok: true, document: emptyScene('Old!!') });
    const second = loadScene(JSON.stringify({ ...emptyScene('Two'), formatVersion: 2, title: 'x' }), 'x', steps);
    expect(second).toStrictEqual({ ok: true, document: emptyScene('Two!') });
    const newer = loadScene(JSON.stringify({ ...emptyScene(), formatVersion: 4 }), 'x.json', steps);
    expect(newer.ok ? [] : newer.faults.map(formatFault)).toEqual([
      'x.json, line 1, formatVersion: made by a newer Farsun (format 4; this one reads up to 3). ' +
        'Update, then open it again.',
    ]);
  });
  test.each([0, 4, 1.5, Number.NaN])('no step leads on from %d', (version) =>
    expect(() => migrate({}, version, steps)).toThrow(RangeError),
  );
});

describe('property: never throws, and every fault is one line', () => {
  const sane = (text: string): void => {
    const result = loadScene(text, 'x.json');
    if (result.ok) return;
    expect(result.faults.length).toBeGreaterThan(0);
    for (const fault of result.faults) expect(formatFault(fault)).toMatch(/^x\.json[^\n\r\u2028\u2029]+$/);
  };
  const text = JSON.stringify(sampleScene(), null, 1);
  test('arbitrary JSON', () => fc.assert(fc.property(fc.json(), sane)));
  test('arbitrary JSON put anywhere into a scene', () => {
    const places: string[][] = [];
    const walk = (value: unknown, path: string[]): void => {
      if (path.length > 0) places.push(path);
      if (typeof value !== 'object' || value === null) return;
      for (const [key, inner] of Object.entries(value)) walk(inner, [...path, key]);
    };
    walk(sampleScene(), []);
    fc.assert(
      fc.property(fc.constantFrom(...places), fc.jsonValue(), (path, value) => {
        const scene = JSON.parse(text) as Record<string, unknown>;
        const holder = path.slice(0, -1).reduce((at, key) => at[key] as Record<string, unknown>, scene);
        holder[path.at(-1) ?? ''] = value;
        sane(JSON.stringify(scene));
      }),
      { numRuns: 300 },
    );
  });
  test('cut and mutated text', () => {
    const place = fc.integer({ min: 0, max: text.length });
    fc.assert(
      fc.property(place, place, fc.string({ maxLength: 3 }), (from, length, put) => {
        sane(text.slice(0, from));
        sane(text.slice(0, from) + put + text.slice(from + (length % 20)));
      }),
      { numRuns: 200 },
    );
  });
});
