/** The nets that the shop has to hand: what the kit lists, less what the setup already uses. */
import type { SceneDocument, Setup } from '../../scene/schema';

export interface NetEntry {
  readonly kitId: string | null;
  readonly widthM: number;
  readonly heightM: number;
  readonly free: number;
}
/** Nets of one grade and weave, smallest first. */
export interface NetGrade {
  readonly stops: number;
  readonly woven: boolean;
  readonly entries: readonly NetEntry[];
  readonly free: number;
}

/** Sizes and numbers of a small shop where the scene lists no kit (common practice, no source). */
const USUAL_ENTRIES: readonly NetEntry[] = [
  { kitId: null, widthM: 0.6, heightM: 0.9, free: 3 },
  { kitId: null, widthM: 0.9, heightM: 1.2, free: 3 },
];
const USUAL_GRADES: readonly NetGrade[] = [0.5, 1].map((stops) => ({
  stops,
  woven: true,
  entries: USUAL_ENTRIES,
  free: 6,
}));
const GREATEST_GRADE_STOPS = 2;

/** Grades of nets that are free, lightest first; rectangles only, heavier ones than 2 stops left out. */
export function netStock(document: SceneDocument, setup: Setup): readonly NetGrade[] {
  if (document.kit === undefined) return USUAL_GRADES;
  const used = (kitId: string): number =>
    Object.values(setup.modifiers).filter((modifier) => modifier.kitId === kitId).length;
  const grades = new Map<string, { stops: number; woven: boolean; entries: NetEntry[] }>();
  for (const [kitId, { grip, count }] of Object.entries(document.kit)) {
    if (grip?.material.kind !== 'net' || grip.shape.kind !== 'rectangle') continue;
    const free = count - used(kitId);
    if (free <= 0 || grip.material.stops > GREATEST_GRADE_STOPS) continue;
    const { stops, weave } = grip.material;
    const woven = weave !== 'plain';
    const grade = grades.get(`${stops} ${woven}`) ?? { stops, woven, entries: [] };
    grade.entries.push({ kitId, widthM: grip.shape.widthM, heightM: grip.shape.heightM, free });
    grades.set(`${stops} ${woven}`, grade);
  }
  return [...grades.values()]
    .map((grade) => ({
      ...grade,
      entries: grade.entries.sort((a, b) => a.widthM * a.heightM - b.widthM * b.heightM),
      free: grade.entries.reduce((sum, { free }) => sum + free, 0),
    }))
    .sort((a, b) => a.stops - b.stops || Number(a.woven) - Number(b.woven));
}

/** Every row of `count` grades (indices, first net first) that the stock can fill. */
export function gradeChoices(stock: readonly NetGrade[], count: number): number[][] {
  const choices: number[][] = [];
  const extend = (chosen: number[]): void => {
    if (chosen.length === count) {
      choices.push(chosen);
      return;
    }
    stock.forEach((grade, index) => {
      if (chosen.filter((one) => one === index).length < grade.free) extend([...chosen, index]);
    });
  };
  extend([]);
  return choices;
}
