/** How sure the verdict is: does its class change when an input stands at the end of its band? */
import type { Confidence, SunCheck, UncertainInput } from '../results';
import type { CompiledScene, CompiledSource } from '../solve/compiled';
import { layersInLight } from '../solve/receivers';
import { intensityShare } from './fill';
import type { Findings } from './findings';
import { limitsOf, scoreAgainst, scoreEdge, scoreShadows, verdictOf, type Scores, type SunLimits } from './limits';
import { towardsSource } from './patch';
import { trimmedSpread } from './statistics';

/** Bands of the inputs: common practice, no published source. */
const PLACE_M = 0.05;
const NET_GRADE_STOPS = 0.1;
const LAMP_CCT_SHARE = 0.05;
const SUN_CCT_SHARE = 0.1;
/** Emitter size and beam angle, by how well the lamp is known. */
const EMITTER_SHARE = { typical: 0.25, file: 0.1, metered: 0.1 };
const BEAM_SHARE = { typical: 0.1, file: 0.05, metered: 0.05 };

/** What the bands are laid round, beside the check's own figures. */
export interface ConfidenceInputs {
  readonly scene: CompiledScene;
  readonly source: CompiledSource;
  readonly findings: Findings;
  /** Edge ratio at the scored percentile; null without edges. */
  readonly edgeTail: number | null;
  /** Shadows counted with the other lamps half as bright, and twice as bright. */
  readonly shadowsAtEnds: readonly [number, number];
  readonly lampMired: number | null;
  readonly sunMired: number | null;
}

/** One input's band: the scores it gives at its two ends. */
interface Band {
  readonly input: UncertainInput;
  readonly ends: readonly [Scores, Scores];
}

/** Keeps the figures that are scored at all. */
function scored(check: SunCheck, scores: Scores): Scores {
  return Object.fromEntries(Object.entries(scores).filter(([figure]) => figure in check.scores));
}

function band(check: SunCheck, input: UncertainInput, of: (sign: 1 | -1) => Scores): Band {
  return { input, ends: [scored(check, of(-1)), scored(check, of(1))] };
}

/** Scores a figure, or its value at the end of a band. */
type Against = (figure: keyof SunLimits, value: number) => number;
const againstIn =
  (limits: SunLimits): Against =>
  (figure, value) =>
    scoreAgainst(Math.max(0, value), limits[figure]);

/** Place of the lamp: 5 cm of its distance moves fall-off, fan and height in proportion. */
function placeBand(check: SunCheck, share: number, against: Against): Band {
  const turnDeg = (share * 180) / Math.PI;
  return band(check, 'place', (sign) => ({
    fallOff: against('fallOff', (check.falloffStops ?? 0) * (1 + sign * share)),
    lineFan: against('lineFan', (check.lineFanDeg ?? 0) * (1 + sign * share)),
    fan: against('fan', (check.fanDeg ?? 0) * (1 + sign * share)),
    height: against('height', Math.abs(check.altitudeOffDeg ?? 0) + sign * turnDeg),
  }));
}

function colourBand(check: SunCheck, input: UncertainInput, shiftMired: number, against: Against): Band {
  const duv = against('duv', Math.abs(check.duvOff ?? 0));
  const off = Math.abs(check.cctOffMired ?? 0);
  return band(check, input, (sign) => ({ colour: Math.max(duv, against('colour', off + sign * shiftMired)) }));
}

function bandsOf(check: SunCheck, inputs: ConfidenceInputs): Band[] {
  const { scene, source, findings, edgeTail, shadowsAtEnds, lampMired, sunMired } = inputs;
  if (source.source.type === 'sun') return [];
  const limits = limitsOf(scene.document);
  const against = againstIn(limits);
  const basis = source.source.basis ?? 'typical';
  const { distanceM } = towardsSource(source, findings.patch.centroid);
  const fallOff = check.falloffStops ?? 0;
  const bands: Band[] = [placeBand(check, PLACE_M / distanceM, against)];
  if (source.profile.kind === 'beam') {
    const shape = findings.patch.points.map((point) => Math.log2(Math.max(1e-6, intensityShare(source, point))));
    const added = 2 * BEAM_SHARE[basis] * trimmedSpread(shape, findings.patch.areaM2);
    bands.push(band(check, 'beam', (sign) => ({ fallOff: against('fallOff', fallOff + sign * added) })));
  }
  if (edgeTail !== null) {
    bands.push(
      band(check, 'emitter', (sign) => ({ edge: scoreEdge(edgeTail * (1 + sign * EMITTER_SHARE[basis]), limits) })),
    );
  }
  if (layersInLight(scene, source).some((layer) => layer.role === 'shade')) {
    bands.push(
      band(check, 'nets', (sign) => ({
        fallOff: against('fallOff', fallOff + sign * NET_GRADE_STOPS),
        step: against('step', (check.stepStopsPer10cm ?? 0) * (1 + 2 * sign * NET_GRADE_STOPS)),
      })),
    );
  }
  const [fewer, more] = shadowsAtEnds;
  bands.push(band(check, 'otherLamps', (sign) => ({ shadows: scoreShadows(sign < 0 ? fewer : more) })));
  if (lampMired !== null && sunMired !== null) {
    bands.push(
      colourBand(check, 'lampColour', LAMP_CCT_SHARE * lampMired, against),
      colourBand(check, 'sunColour', SUN_CCT_SHARE * sunMired, against),
    );
  }
  return bands;
}

/** Inputs whose band changes the class of the verdict, at one end at least; none where there is no verdict. */
export function doubtsOf(check: SunCheck, inputs: ConfidenceInputs): UncertainInput[] {
  if (check.verdict === 'notEnough') return [];
  return bandsOf(check, inputs)
    .filter(({ ends }) => ends.some((scores) => verdictOf({ ...check.scores, ...scores }).verdict !== check.verdict))
    .map(({ input }) => input);
}

/**
 * sure: no input's band changes the class of the verdict; likely: one input does; unsure: more than one.
 * @returns null where there is no verdict
 * @source judgement definition 4, confidence; the real sun itself is known
 */
export function confidenceOf(check: SunCheck, doubts: readonly UncertainInput[]): Confidence | null {
  if (check.verdict === 'notEnough') return null;
  return doubts.length === 0 ? 'sure' : doubts.length === 1 ? 'likely' : 'unsure';
}
