/** From what a search found to a mend: judged in full, compared with the rig before, put in words. */
import type { Setup } from '../../scene/schema';
import { FIGURE_WORDS } from '../judgement/figureWords';
import type { SunCheck } from '../results';
import { workOf, type DistanceNeed, type Mend, type MendFigures, type MendKind } from './mend';
import { highestOf, judgeLamp, sumOf, worstOf, type Situation } from './situation';
import { costWords, leavesWords, stops } from './words';

/** A mend that a search proposes, before it is judged in full. */
export interface Proposal {
  readonly kind: MendKind;
  readonly setup: Setup;
  /** The order to the crew, up to the colon: "Back off to 9.0 m". */
  readonly order: string;
  /** The order as the verdict's sentence has it, without what only the crew at the lamp needs. */
  readonly brief: string;
  readonly why: string;
  readonly pieces: number;
  readonly predictedFalloffStops: number;
  /** Light lost at full level, stops. */
  readonly costStops: number;
  /** Appended to the id where one kind offers several. */
  readonly suffix?: string;
  readonly needs?: DistanceNeed | null;
  /** What else should be known, a whole sentence. */
  readonly remark?: string;
}

const LEAST_GAIN = 0.02;

const idOf = ({ lampId }: Situation, kind: MendKind, suffix = ''): string => `${kind}${suffix}-${lampId}`;

const figuresOf = ({ falloffStops, stepStopsPer10cm, lineFanDeg, edgeRatio }: SunCheck): MendFigures => ({
  falloffStops,
  stepStopsPer10cm,
  lineFanDeg,
  edgeRatio,
});

/** A mend that cannot be had: what stands against it. */
export function refusal(situation: Situation, kind: MendKind, sentence: string): Mend {
  return {
    id: idOf(situation, kind),
    kind,
    sourceId: situation.lampId,
    sentence,
    brief: sentence,
    remark: '',
    before: figuresOf(situation.main.check),
    falloffStops: null,
    stepStopsPer10cm: null,
    lineFanDeg: null,
    edgeRatio: null,
    costStops: null,
    scoreBefore: situation.scoreBefore,
    scoreAfter: null,
    possible: false,
    why: sentence,
    pieces: 0,
    ...workOf(situation.document, kind, 0),
    setup: null,
    needs: null,
    predictedFalloffStops: null,
  };
}

function worstCheck(checks: readonly SunCheck[]): SunCheck {
  return checks.reduce((a, b) => (highestOf(b.scores) > highestOf(a.scores) ? b : a));
}

/** A mend with the sum of scores that it is ranked by. */
export interface RankedMend {
  readonly mend: Mend;
  readonly sum: number;
  readonly pieces: number;
}

/** Why the re-simulated rig is no mend, or null. */
function against(situation: Situation, checks: readonly SunCheck[], worst: SunCheck): string | null {
  if (checks.some((check) => Object.keys(check.scores).length === 0)) return 'The patch is lost.';
  const before = worstOf(situation.judged.map(({ check }) => check.scores));
  const after = worstOf(checks.map((check) => check.scores));
  const [was, is] = [highestOf(before), highestOf(after)];
  if (is > was + 1e-6) {
    const falloff = worst.falloffStops === null ? 'no fall-off' : `${stops(worst.falloffStops)} of fall-off`;
    const other =
      worst.worst === null || worst.worst === 'fallOff' ? '' : `, and ${FIGURE_WORDS[worst.worst]} at fault`;
    return `It would make things worse: ${falloff}${other}.`;
  }
  if (was - is < LEAST_GAIN && sumOf(before) - sumOf(after) < LEAST_GAIN) return 'It would change next to nothing.';
  return null;
}

/** Judges a proposal in full. */
export function offer(situation: Situation, proposal: Proposal): RankedMend {
  const { kind, setup, pieces } = proposal;
  situation.pace.check();
  const checks = judgeLamp(situation.document, setup, situation.lampId, situation.options.effort ?? 'full');
  const worst = worstCheck(checks);
  const scores = worstOf(checks.map((check) => check.scores));
  const refused = against(situation, checks, worst);
  const did = `${proposal.order}: ${leavesWords(worst, situation.main.check.falloffStops)}, ${costWords(proposal.costStops)}.`;
  const remark = proposal.remark === undefined ? '' : ` ${proposal.remark}`;
  const mend: Mend = {
    id: idOf(situation, kind, proposal.suffix),
    kind,
    sourceId: situation.lampId,
    sentence: refused === null ? `${did}${remark}` : `${proposal.order}: no use. ${refused}${remark}`,
    brief: proposal.brief,
    remark: proposal.remark ?? '',
    before: figuresOf(situation.main.check),
    ...figuresOf(worst),
    costStops: proposal.costStops,
    scoreBefore: situation.scoreBefore,
    scoreAfter: highestOf(scores),
    possible: refused === null,
    why: refused ?? proposal.why,
    pieces,
    ...workOf(situation.document, kind, pieces),
    setup: refused === null ? setup : null,
    needs: proposal.needs ?? null,
    predictedFalloffStops: proposal.predictedFalloffStops,
  };
  return { mend, sum: sumOf(scores), pieces };
}
