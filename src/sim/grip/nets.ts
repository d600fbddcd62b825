/** Nets on a stand, staggered in from the near side by figures that somebody sets. */
import {
  fittingEntry,
  hangNets,
  NET_PITCH_M,
  neededCloth,
  netField,
  type NetField,
  type NetPlace,
} from '../mends/netRig';
import type { NetEntry, NetGrade } from '../mends/netStock';
import { MOST_NETS, netReach, NetSearch } from '../mends/nets';
import { meanRay } from '../mends/placing';
import { blendOverPatch } from '../mends/sheets';
import { MOST_PATCHES } from '../mends/halfScrim';
import type { Situation } from '../mends/situation';
import { centimetres, gradeWords, metres } from '../mends/words';
import { angle, fineLength, length, refused, type GripPlan } from './gripPlan';
import type { NetsRequest } from './gripRequest';
import { netsOfGrade } from './toHand';

/** A hand's breadth in front of the lens or the mirror, m. */
const NEAREST_M = 0.1;

/** Tangent of the free edge of a net that covers this share of the light from the near side. */
export function edgeOf({ low, high, side }: NetField, coverShare: number): number {
  return side > 0 ? high - coverShare * (high - low) : low + coverShare * (high - low);
}
/** Share of the light that a net with this free edge covers; the inverse of `edgeOf`. */
export function coverOf({ low, high, side }: NetField, edge: number): number {
  return side > 0 ? (high - edge) / (high - low) : (edge - low) / (high - low);
}

/** The grades of the nets asked for, one object for each grade, so that its pieces are counted once. */
function gradesOf({ document, setup }: Situation, { nets }: NetsRequest): NetGrade[] {
  const grades = new Map<number, NetGrade>();
  return nets.map(({ stops }) => {
    const grade = grades.get(stops) ?? netsOfGrade(document, setup, stops);
    grades.set(stops, grade);
    return grade;
  });
}

function placesOf(situation: Situation, field: NetField, request: NetsRequest, mirrorLegM: number): NetPlace[] {
  const grades = gradesOf(situation, request);
  return request.nets.map(({ coverShare }, i) => ({
    distanceM: mirrorLegM + request.distanceM + i * NET_PITCH_M,
    edge: edgeOf(field, coverShare),
    grade: grades[i]!,
  }));
}

function tooSmall(field: NetField, places: readonly NetPlace[]): string {
  const taken = new Map<NetEntry, number>();
  for (const [i, place] of places.entries()) {
    const entry = fittingEntry(field, place, taken);
    if (entry) {
      taken.set(entry, (taken.get(entry) ?? 0) + 1);
      continue;
    }
    const { widthM, heightM } = neededCloth(field, place);
    const size = `${widthM.toFixed(2)} x ${heightM.toFixed(2)} m`;
    const grade = gradeWords(place.grade.stops);
    return `Net ${i + 1} takes a cloth of ${size}; no free net of ${grade} is that large. Nearer to the lens a smaller one does.`;
  }
  return 'The kit has not enough free nets.';
}

/**
 * Hangs the nets of a request in the lamp's light.
 * @source grades and stagger "in from the near side, open end toward the far side": common practice, no source
 */
export function planNets(situation: Situation, request: NetsRequest): GripPlan {
  const ray = meanRay(situation);
  const { farthestM } = netReach(situation, ray);
  const mostM = farthestM - ray.mirrorLegM;
  const from = ray.mirrorLegM > 0 ? 'mirror' : 'lens';
  if (request.nets.length < 1 || request.nets.length > MOST_NETS) return refused('One to three nets go on a stand.');
  if (request.distanceM < NEAREST_M || request.distanceM > mostM) {
    return refused(`The nets stand ${metres(NEAREST_M)} to ${metres(mostM)} from the ${from}, clear of the window.`);
  }
  const field = netField(situation, ray, request.turnDeg);
  const places = placesOf(situation, field, request, ray.mirrorLegM);
  const setup = hangNets(situation.setup, field, places);
  if (setup === null) return refused(tooSmall(field, places));
  const pieceIds = Object.keys(setup.modifiers).filter((id) => !Object.hasOwn(situation.setup.modifiers, id));
  const patches = blendOverPatch(situation, field.frame.right, places[0]!.distanceM);
  const first = places[0]!.edge * places[0]!.distanceM;
  const side = first > 0 ? 'right' : 'left';
  const remarks = [
    `In from the ${situation.main.check.hotEnd ?? 'near side'}, open end toward the far side.`,
    `Seen from behind the ${from === 'lens' ? 'lamp' : 'mirror'}, the first free edge stands ${centimetres(Math.abs(first))} ${side} of the light’s middle.`,
  ];
  if (patches > MOST_PATCHES) {
    remarks.push(`The emitter is so wide that a net blends over ${patches.toFixed(0)} patch lengths: it mostly dims.`);
  }
  return {
    ok: true,
    setup,
    pieceIds,
    remarks,
    facts: [
      length(`First net from the ${from}`, request.distanceM),
      length('Height of the first net’s middle', setup.modifiers[pieceIds[0]!]!.pose.positionM[2]),
      ...places.slice(1).map((place, i) => fineLength(`Edge ${i + 2} from edge ${i + 1}`, apart(places[i]!, place))),
      ...(request.turnDeg === 0 ? [] : [angle('Free edges turned', request.turnDeg)]),
    ],
  };
}
const apart = (a: NetPlace, b: NetPlace): number => Math.abs(b.edge * b.distanceM - a.edge * a.distanceM);

/** The request with distance and free edges where the search of the mends puts nets of these grades; null for none. */
export function bestNetsFor(situation: Situation, request: NetsRequest): NetsRequest | null {
  const found = new NetSearch(situation).bestOf(gradesOf(situation, request));
  if (!found) return null;
  const { field, places } = found;
  const round = (value: number, to: number): number => Math.round(value / to) * to;
  return {
    ...request,
    distanceM: Number(round(places[0]!.distanceM - meanRay(situation).mirrorLegM, 0.01).toFixed(2)),
    turnDeg: field.rollDeg,
    nets: places.map(({ edge, grade }) => ({
      stops: grade.stops,
      coverShare: Number(round(coverOf(field, edge), 0.01).toFixed(2)),
    })),
  };
}
