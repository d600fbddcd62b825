/** Whether two maps say the same in every cell. */
import type { GridResult } from '../../sim/results';

type Numbers = Float32Array | Uint8Array;

function areSameNumbers(a: Numbers, b: Numbers): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i += 1) if (!Object.is(a[i], b[i])) return false;
  return true;
}

/** True where place, levels and the levels of every source are the same. */
export function isSameGrid(a: GridResult, b: GridResult): boolean {
  const { mask, layers, illuminanceLx, ...place } = a;
  const isPlaced = Object.entries(place).every(([key, value]) => b[key as keyof typeof place] === value);
  if (!isPlaced || layers.length !== b.layers.length) return false;
  if (!areSameNumbers(illuminanceLx, b.illuminanceLx) || !areSameNumbers(mask, b.mask)) return false;
  return layers.every(({ sourceId, unitIlluminanceLx }, i) => {
    const other = b.layers[i]!;
    return sourceId === other.sourceId && areSameNumbers(unitIlluminanceLx, other.unitIlluminanceLx);
  });
}
