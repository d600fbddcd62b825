/** Setups side by side on one surface: levels on one grid, evenness, gear and power, and where they differ. */
import type { SceneDocument, Setup } from '../../scene/schema';
import { judgeSetup } from '../judgement/judgeSetup';
import type { Verdict } from '../results';
import { compileScene } from '../solve/compileScene';
import { coverageArea, solveArea, type SolvedArea } from './evenness';
import { tellsOf, type Tells } from './tells';

export interface GearCount {
  readonly name: string;
  readonly count: number;
}
export interface ComparedSetup {
  readonly setupId: string;
  readonly name: string;
  readonly solved: SolvedArea;
  readonly tells: Tells;
  readonly lamps: readonly GearCount[];
  readonly grip: readonly GearCount[];
  /** Mains power of the lamps that are on, at full; dimmers are left out, breakers must stand the whole. */
  readonly mainsW: number;
  /** Lamps that are on and whose mains power nobody has stated. */
  readonly unknownPower: number;
  /** Worst verdict of what plays the sun in this setup; null where nothing does. */
  readonly verdict: Verdict | null;
}

function counted(names: readonly string[]): GearCount[] {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return [...counts].map(([name, count]) => ({ name, count }));
}

const BAD_FIRST: readonly Verdict[] = ['givesAway', 'passable', 'reads', 'notEnough'];

const lampsOn = (setup: Setup) =>
  Object.values(setup.sources).flatMap((source) => (source.type === 'lamp' && source.off !== true ? [source] : []));

/** One setup's part of the comparison, all of its light on. @throws {RangeError} if setup or surface does not exist */
export function comparedSetup(document: SceneDocument, setupId: string, surfaceId: string): ComparedSetup {
  const scene = compileScene(document, setupId);
  const area = coverageArea(document, surfaceId);
  const solved = solveArea(scene, area);
  const lamps = lampsOn(scene.setup);
  const verdicts = judgeSetup(scene).map(({ verdict }) => verdict);
  const watts = lamps.flatMap(({ power }) => (power?.mainsW === undefined ? [] : [power.mainsW]));
  return {
    setupId,
    name: scene.setup.name,
    solved,
    tells: tellsOf(scene, area, solved),
    lamps: counted(lamps.map(({ unit, name }) => unit ?? name)),
    grip: counted(
      Object.values(scene.setup.modifiers).map(({ kitId, name }) =>
        kitId === undefined ? name : (document.kit?.[kitId]?.name ?? name),
      ),
    ),
    mainsW: watts.reduce((sum, each) => sum + each, 0),
    unknownPower: lamps.filter(({ power }) => power?.mainsW === undefined && power?.batteryWh === undefined).length,
    verdict: BAD_FIRST.find((verdict) => verdicts.includes(verdict)) ?? null,
  };
}

/** log2(a / b) at each cell, stops; NaN where either is dark or off the surface. */
export function differenceStops(a: SolvedArea, b: SolvedArea): Float32Array {
  return Float32Array.from(a.grid.illuminanceLx, (level, cell) => {
    const other = b.grid.illuminanceLx[cell] ?? 0;
    return a.grid.mask[cell] === 1 && level > 0 && other > 0 ? Math.log2(level / other) : NaN;
  });
}
