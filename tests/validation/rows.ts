/** All rows of the validation table, by what they test. */
import { exposureLaws, filterLaws } from './exposureLaws';
import { blackEdgeRows } from './blackEdgeRows';
import { blindRows } from './blindRows';
import { emitterKernelRows } from './emitterKernelRows';
import { gateKernelRows } from './gateKernelRows';
import { lampKernelRows } from './lampKernelRows';
import { fileKernelRows } from './fileKernelRows';
import { fileLaws } from './fileLaws';
import { paneRows } from './paneRows';
import { photometryLaws } from './photometryLaws';
import { CHECK_VALUES, rowOf, type Row } from './row';
import { shadowKernelRows } from './shadowKernelRows';
import { shadowLaws } from './shadowLaws';

export type { Row } from './row';

/** A measured value by check-value id. */
export type Laws = Readonly<Record<string, () => number>>;

/** One row for every check value: the formula that the app calls. */
export function lawRows(): Row[] {
  const laws: Laws = { ...photometryLaws(), ...shadowLaws(), ...exposureLaws(), ...filterLaws(), ...fileLaws() };
  return CHECK_VALUES.map(({ id }) => {
    const law = laws[id];
    if (!law) throw new RangeError(`no law for check value ${id}`);
    return rowOf(id, law(), 'law');
  });
}

/** Scene documents solved by the light kernel and read at points. */
export function kernelRows(): Row[] {
  return [
    ...emitterKernelRows(),
    ...fileKernelRows(),
    ...shadowKernelRows(),
    ...lampKernelRows(),
    ...gateKernelRows(),
    ...blackEdgeRows(),
    ...blindRows(),
    ...paneRows(),
  ];
}
