/**
 * What the schema cannot say about one object: outlines that are simple, openings inside their wall, figures that fit
 * together. Pure; the loader and the commands share it. What runs between objects is in references.ts.
 */
import { blackEdgeProblems } from './blackEdges';
import { MOST_SLATS, slatCount, type Blind } from './geometry/blindSlats';
import type { Path, Problem } from './faults';
import {
  boundsOf,
  findMeeting,
  liesWithin,
  rectangleRing,
  ringFlaw,
  ringsOverlap,
  sideOfRing,
  type Ring,
} from './outlines';
import type {
  Aim,
  Camera,
  Colour,
  Distribution,
  Emitter,
  KitEntry,
  Lamp,
  Material,
  Meter,
  Modifier,
  ModifierShape,
  Opening,
  Output,
  Point3,
  Pose,
  Source,
  Story,
  Surface,
  SurfaceShape,
  Web,
} from './schema';
import { emitterProblems, patternProblems } from './patternProblems';
import { readStored } from './webs/readPhotometricText';

const SAME_PLACE_M = 1e-6;

// --- outlines ---------------------------------------------------------------------------------------------------

/** Outlines found simple before, by reference: documents share what they do not change, so a drag checks them once. */
const knownSimple = new WeakSet<object>();

/** What is wrong with one closed outline, told at its path; empty when it is simple. */
export function outlineProblems(outline: Ring, path: Path): Problem[] {
  if (knownSimple.has(outline)) return [];
  const flaw = ringFlaw(outline);
  if (flaw !== null) {
    return flaw.kind === 'repeated'
      ? [{ path: [...path, flaw.corner], found: 'the corner before it again', expected: 'each corner once' }]
      : [{ path: [...path, flaw.corner], found: 'a spike', expected: 'an outline that encloses an area' }];
  }
  const meeting = findMeeting([outline]);
  if (meeting !== null) {
    const [first, second] = meeting.edges;
    return [
      {
        path,
        found: `an outline that meets itself (edges from corners ${first} and ${second})`,
        expected: 'an outline that does not cross or touch itself',
      },
    ];
  }
  knownSimple.add(outline);
  return [];
}

function holeProblems(outline: Ring, holes: readonly Ring[], path: Path): Problem[] {
  const placeOf = (hole: number): Path => [...path, 'holesM', hole];
  const own = holes.flatMap((hole, index) => outlineProblems(hole, placeOf(index)));
  if (own.length > 0 || knownSimple.has(holes)) return own;
  const meeting = findMeeting([outline, ...holes]);
  if (meeting !== null) {
    const [first, second] = meeting.rings;
    const other = first === 0 ? 'the outline' : `hole ${first - 1}`;
    const found = `a hole that meets ${other}`;
    return [{ path: placeOf(second - 1), found, expected: 'a hole clear of the outline and of other holes' }];
  }
  const problems: Problem[] = [];
  holes.forEach((hole, index) => {
    const corner = hole[0] ?? [0, 0];
    if (sideOfRing(corner, outline) !== 'inside') {
      problems.push({
        path: placeOf(index),
        found: 'a hole outside the outline',
        expected: 'a hole inside the outline',
      });
    } else if (holes.some((other, otherIndex) => otherIndex !== index && sideOfRing(corner, other) === 'inside')) {
      problems.push({ path: placeOf(index), found: 'a hole in another hole', expected: 'holes apart' });
    }
  });
  if (problems.length === 0) knownSimple.add(holes);
  return problems;
}

/** What is wrong with a plane shape: its outline, and its holes within it. */
export function shapeProblems(shape: SurfaceShape | ModifierShape, path: Path): Problem[] {
  if (shape.kind !== 'polygon') return [];
  const own = outlineProblems(shape.outlineM, [...path, 'outlineM']);
  return own.length > 0 ? own : holeProblems(shape.outlineM, shape.holesM ?? [], path);
}

/** The outer edge of a surface's or an opening's shape in its own right/up metres. */
export const ringOf = (shape: SurfaceShape, leftM = 0, lowM = 0): Ring =>
  shape.kind === 'rectangle'
    ? rectangleRing(leftM, lowM, shape.widthM, shape.heightM)
    : shape.outlineM.map(([right, up]) => [right + leftM, up + lowM] as const);

/** An opening's outer edge in the right/up metres of its surface. */
export const openingRing = (opening: Opening): Ring => ringOf(opening.shape, opening.leftM, opening.sillM);

// --- surfaces ---------------------------------------------------------------------------------------------------

function windowProblems(opening: Opening, path: Path): Problem[] {
  const { window } = opening;
  if (window === undefined) return [];
  const { leftM, rightM, lowM, highM } = boundsOf(openingRing(opening));
  const frameM = 2 * (window.frameWidthM ?? 0);
  const acrossM = frameM + (window.columns - 1) * window.barWidthM;
  const upM = frameM + (window.rows - 1) * window.barWidthM;
  const narrow: Problem[] = [];
  const check = (takenM: number, sizeM: number, side: string): void => {
    if (takenM < sizeM - SAME_PLACE_M) return;
    narrow.push({
      path: [...path, 'window'],
      found: `bars and frame ${round(takenM)} m ${side}`,
      expected: `less than the opening, ${round(sizeM)} m ${side}`,
    });
  };
  check(acrossM, rightM - leftM, 'wide');
  check(upM, highM - lowM, 'high');
  return [...narrow, ...blindProblems(window.blind, highM - lowM, [...path, 'window', 'blind', 'pitchM'])];
}

function blindProblems(blind: Blind | undefined, heightM: number, path: Path): Problem[] {
  if (blind === undefined) return [];
  const slats = slatCount(blind.pitchM, heightM);
  if (slats <= MOST_SLATS) return [];
  const leastM = Math.ceil((heightM / MOST_SLATS) * 1e4) / 1e4;
  const expected = `at most ${MOST_SLATS} slats: a pitch of ${leastM} m or more`;
  return [{ path, found: `${slats} slats`, expected }];
}
const round = (lengthM: number): number => Math.round(lengthM * 1e4) / 1e4;

function openingProblems(surface: Surface, id: string, path: Path): Problem[] {
  const opening = surface.openings?.[id];
  if (opening === undefined) return [];
  const here = [...path, 'openings', id];
  const own = shapeProblems(opening.shape, [...here, 'shape']);
  if (own.length > 0) return own;
  const ring = openingRing(opening);
  const problems = windowProblems(opening, here);
  if (!liesWithin(ring, ringOf(surface.shape))) {
    problems.push({
      path: here,
      found: 'an opening that reaches outside its surface',
      expected: 'an opening inside the outline of the surface',
    });
  }
  const holes = surface.shape.kind === 'polygon' ? (surface.shape.holesM ?? []) : [];
  if (holes.some((hole) => ringsOverlap(ring, hole))) {
    problems.push({ path: here, found: 'an opening over a hole', expected: 'an opening clear of the holes' });
  }
  return problems;
}

function openingPairProblems(surface: Surface, path: Path): Problem[] {
  const openings = Object.entries(surface.openings ?? {}).map(([id, opening]) => ({ id, ring: openingRing(opening) }));
  return openings.flatMap(({ id, ring }, index): Problem[] => {
    const other = openings.slice(0, index).find((earlier) => ringsOverlap(ring, earlier.ring));
    if (other === undefined) return [];
    const found = `an opening over opening ${other.id}`;
    return [{ path: [...path, 'openings', id], found, expected: 'openings clear of each other' }];
  });
}

/** What is wrong with one surface in itself. */
export function surfaceProblems(surface: Surface, path: Path): Problem[] {
  const problems = [
    ...poseProblems(surface.pose, [...path, 'pose']),
    ...shapeProblems(surface.shape, [...path, 'shape']),
  ];
  if (surface.judgedAreaM !== undefined) {
    problems.push(...outlineProblems(surface.judgedAreaM, [...path, 'judgedAreaM']));
  }
  if (problems.length > 0) return problems;
  const each = Object.keys(surface.openings ?? {}).flatMap((id) => openingProblems(surface, id, path));
  return each.length > 0 ? each : openingPairProblems(surface, path);
}

// --- poses and aims ---------------------------------------------------------------------------------------------

function aimProblems(positionM: Point3, aim: Aim, path: Path): Problem[] {
  if (!('atM' in aim)) return [];
  const [dx, dy, dz] = [aim.atM[0] - positionM[0], aim.atM[1] - positionM[1], aim.atM[2] - positionM[2]];
  if (Math.hypot(dx, dy, dz) > SAME_PLACE_M) return [];
  return [{ path: [...path, 'atM'], found: 'its own position', expected: 'a point away from it to look at' }];
}
const poseProblems = (pose: Pose, path: Path): Problem[] => aimProblems(pose.positionM, pose.aim, [...path, 'aim']);

/** What is wrong with a meter in itself. */
export const meterProblems = (meter: Meter, path: Path): Problem[] =>
  aimProblems(meter.positionM, meter.aim, [...path, 'aim']);
/** What is wrong with the camera in itself. */
export const cameraProblems = (camera: Camera, path: Path): Problem[] =>
  camera.pose === undefined ? [] : poseProblems(camera.pose, [...path, 'pose']);

// --- sources and modifiers --------------------------------------------------------------------------------------

function colourProblems(colour: Colour | undefined, path: Path): Problem[] {
  if (colour === undefined || !('x' in colour) || colour.x + colour.y <= 1) return [];
  return [{ path, found: `x + y of ${round(colour.x + colour.y)}`, expected: 'x + y of at most 1' }];
}

/** A source nearer to its lens's focus than this makes a parallel beam, and one beyond it a picture; of the length. */
const NEAREST_TO_FOCUS = 0.999;

function distributionProblems(distribution: Distribution, path: Path): Problem[] {
  const problems = patternProblems(distribution, path);
  if (distribution.kind === 'beam' || distribution.kind === 'lensed') {
    const { beamAngleDeg, fieldAngleDeg } = distribution;
    if (fieldAngleDeg !== undefined && fieldAngleDeg <= beamAngleDeg) {
      problems.push({
        path: [...path, 'fieldAngleDeg'],
        expected: `an angle above the beam angle, ${beamAngleDeg}`,
      });
    }
  }
  if (distribution.kind === 'lensed' && distribution.lampToLensM > NEAREST_TO_FOCUS * distribution.focalLengthM) {
    problems.push({
      path: [...path, 'lampToLensM'],
      expected: `a length below the focal length, ${distribution.focalLengthM}, by at least a thousandth of it`,
    });
  }
  return problems;
}

interface Photometry {
  readonly emitter: Emitter;
  readonly distribution: Distribution;
  readonly output: Output;
}
function photometryProblems({ emitter, distribution, output }: Photometry, path: Path): Problem[] {
  const ofEmitter = emitterProblems(emitter, [...path, 'emitter']);
  if (ofEmitter.length > 0) return ofEmitter;
  if (output.kind === 'file' && distribution.kind !== 'web') {
    return [
      { path: [...path, 'output'], found: 'the output of a file', expected: 'a photometric file to take it from' },
    ];
  }
  if (output.kind !== 'luminance' || emitter.shape !== 'point') return [];
  return [{ path: [...path, 'output'], found: 'a luminance for a point', expected: 'an emitter with an area' }];
}

function lampProblems(lamp: Lamp, path: Path): Problem[] {
  return [
    ...poseProblems(lamp.pose, [...path, 'pose']),
    ...distributionProblems(lamp.distribution, [...path, 'distribution']),
    ...photometryProblems(lamp, path),
    ...blackEdgeProblems(lamp, path),
  ];
}
/** What is wrong with one source in itself. */
export function sourceProblems(source: Source, path: Path): Problem[] {
  const own = source.type === 'lamp' ? lampProblems(source, path) : [];
  return [...own, ...colourProblems(source.colour, [...path, 'colour'])];
}

function materialProblems(material: Material, path: Path): Problem[] {
  if (material.kind !== 'diffusion') return [];
  const sum = material.directTransmittance + material.diffuseTransmittance;
  if (sum <= 1 + 1e-9) return [];
  return [{ path, found: `transmittances of ${round(sum)} together`, expected: 'at most 1 together' }];
}
/** What is wrong with one modifier in itself. */
export function modifierProblems(modifier: Modifier, path: Path): Problem[] {
  return [
    ...poseProblems(modifier.pose, [...path, 'pose']),
    ...shapeProblems(modifier.shape, [...path, 'shape']),
    ...materialProblems(modifier.material, [...path, 'material']),
  ];
}

/** What is wrong with a stored photometric file: the fault of its text, or nothing. */
export function webProblems(web: Web, path: Path): Problem[] {
  const read = readStored(web);
  if (read.ok) return [];
  const { found, expected, sentence, line } = read.fault;
  const where = line === null ? '' : `, line ${line}`;
  const told = sentence ?? `found ${found}, expected ${expected}`;
  return [{ path: [...path, 'text'], found, expected, sentence: `photometric file${where}: ${told}` }];
}

/** What is wrong with a kit entry in itself. */
export function kitEntryProblems(entry: KitEntry, path: Path): Problem[] {
  const { lamp, grip } = entry;
  return [
    ...(lamp === undefined
      ? []
      : [
          ...distributionProblems(lamp.distribution, [...path, 'lamp', 'distribution']),
          ...photometryProblems(lamp, [...path, 'lamp']),
          ...colourProblems(lamp.colour, [...path, 'lamp', 'colour']),
        ]),
    ...(grip === undefined
      ? []
      : [
          ...shapeProblems(grip.shape, [...path, 'grip', 'shape']),
          ...materialProblems(grip.material, [...path, 'grip', 'material']),
        ]),
  ];
}
// --- story ------------------------------------------------------------------------------------------------------

function isCalendarDate(date: string): boolean {
  const [year, month, day] = date.split('-').map(Number) as [number, number, number];
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  return day >= 1 && day <= (days[month - 1] ?? 0);
}
function isClockTime(clock: string): boolean {
  const [hours, minutes] = clock.split(':').map(Number) as [number, number];
  return hours < 24 && minutes < 60;
}

/** Limits that let nothing pass, or pass less than they call good. */
function limitProblems(limits: NonNullable<Story['limits']>, path: Path): Problem[] {
  return Object.entries(limits).flatMap(([figure, limit]) => {
    if (limit === undefined) return [];
    // An edge as wide as the sun's is 1, every other figure's best is 0.
    const best = figure === 'edge' ? 1 : 0;
    const at = [...path, figure, 'passable'];
    if (limit.passable < limit.good)
      return [{ path: at, found: String(limit.passable), expected: 'at least what is good' }];
    return limit.passable > best ? [] : [{ path: at, found: String(limit.passable), expected: `more than ${best}` }];
  });
}

/** What is wrong with the story in itself: its date, its hour, its limits, its polygons of space. */
export function storyProblems(story: Story, path: Path): Problem[] {
  const problems: Problem[] = [];
  if (story.date !== undefined && !isCalendarDate(story.date)) {
    problems.push({ path: [...path, 'date'], expected: 'a day of the calendar' });
  }
  if (story.clock !== undefined && !isClockTime(story.clock)) {
    problems.push({ path: [...path, 'clock'], expected: 'a time from 00:00 to 23:59' });
  }
  if (story.limits) problems.push(...limitProblems(story.limits, [...path, 'limits']));
  for (const side of ['insideM', 'outsideM'] as const) {
    (story.lampSpace?.[side] ?? []).forEach((outline, index) =>
      problems.push(...outlineProblems(outline, [...path, 'lampSpace', side, index])),
    );
  }
  return problems;
}
