/** Black foil over the rim of a lit face, by asking of every sample of the whole face whether it lies under the foil. */
import type { Emitter, Lamp } from '../../src/scene/schema';
import type { Axes } from './poses';
import { inner, plus, type Triple } from './vectors';

type Edges = Extract<NonNullable<Lamp['accessories']>[number], { kind: 'blackEdges' }>;
const edgesOn = ({ accessories = [] }: Lamp): Edges[] => accessories.filter((one) => one.kind === 'blackEdges');

/** Places of samples, and the candela that each sends. */
interface Lit {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly candela: Float64Array;
}
type Fill<Into extends Lit> = (receiver: Triple, square: Float64Array, into: Into) => void;

/** Width that foil takes from the rim of a lens, m. */
export const lensFoilM = (lamp: Lamp): number => edgesOn(lamp).reduce((sum, { ringM = 0 }) => sum + ringM, 0);

/** True under the foil; `a` metres to the right seen from behind, `b` up, from the middle of the whole face. */
function isBlack(face: Emitter, edges: Edges, a: number, b: number): boolean {
  const { leftM = 0, rightM = 0, topM = 0, bottomM = 0, ringM = 0 } = edges;
  switch (face.shape) {
    case 'rectangle':
      return (
        a < leftM - face.widthM / 2 ||
        a > face.widthM / 2 - rightM ||
        b > face.heightM / 2 - topM ||
        b < bottomM - face.heightM / 2
      );
    case 'tube':
      return a < leftM - face.lengthM / 2 || a > face.lengthM / 2 - rightM;
    case 'disc':
      return Math.hypot(a, b) > face.diameterM / 2 - ringM;
    default:
      return false;
  }
}

/** The fill of the whole face, with what lies under foil put out. One set of foil at most. */
export function underFoil<Into extends Lit>(fill: Fill<Into>, face: Emitter, lamp: Lamp, axes: Axes): Fill<Into> {
  const [edges, second] = edgesOn(lamp);
  if (second) throw new Error('brute force covers one set of black edges');
  if (!edges || lamp.distribution.kind === 'lensed') return fill;
  return (receiver, square, into) => {
    fill(receiver, square, into);
    for (let i = 0; i < into.x.length; i++) {
      const at: Triple = [into.x[i]!, into.y[i]!, into.z[i]!];
      const from = plus(at, axes.origin, -1);
      if (isBlack(face, edges, -inner(from, axes.right), inner(from, axes.up))) into.candela[i] = 0;
    }
  };
}
