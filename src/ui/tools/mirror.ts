/** A thing as an upright mirror shows it: place, aim, and whatever has a left and a right. */
import type { Thing } from '../../scene/commands';
import type { Aim, Lamp, Modifier, Point3 } from '../../scene/schema';

/** An upright plane: `axis` 0 lies across east at x = `atM`, 1 across north at y = `atM`. */
export interface MirrorLine {
  readonly axis: 0 | 1;
  readonly atM: number;
}
export const throughLine = (axis: 0 | 1, atM: number): MirrorLine => ({ axis, atM });

const plain = (value: number): number => Number(value.toFixed(4)) + 0;
const place = ({ axis, atM }: MirrorLine, positionM: Point3): [number, number, number] => {
  const [x, y, z] = positionM;
  return axis === 0 ? [plain(2 * atM - x), y, z] : [x, plain(2 * atM - y), z];
};

/** Across east a direction's pan changes its sign; across north it goes to 180 less itself. Roll turns the other way. */
function aimAcross(line: MirrorLine, aim: Aim): Aim {
  const roll = aim.rollDeg === undefined ? {} : { rollDeg: plain(-aim.rollDeg) };
  if ('atM' in aim) return { atM: place(line, aim.atM), ...roll };
  const panDeg = line.axis === 0 ? -aim.panDeg : 180 - aim.panDeg;
  return { panDeg: plain(panDeg), tiltDeg: aim.tiltDeg, ...roll };
}

type Accessory = NonNullable<Lamp['accessories']>[number];
/** Sides of a lamp: what is on the right goes to the left, top and bottom stay. */
function accessoryAcross(accessory: Accessory): Accessory {
  if (accessory.kind === 'barnDoors') {
    return { ...accessory, leaves: accessory.leaves.map((leaf) => ({ ...leaf, turnDeg: plain(180 - leaf.turnDeg) })) };
  }
  if (accessory.kind === 'wireScrim' && accessory.half) {
    return { ...accessory, half: { clockDeg: plain(180 - accessory.half.clockDeg) } };
  }
  if (accessory.kind === 'blackEdges') {
    const { leftM, rightM, ...rest } = accessory;
    return { ...rest, ...(rightM !== undefined && { leftM: rightM }), ...(leftM !== undefined && { rightM: leftM }) };
  }
  return accessory;
}

function lampAcross(lamp: Lamp): Lamp {
  const { accessories, distribution } = lamp;
  const shutters = distribution.kind === 'projection' ? distribution.shutters : undefined;
  return {
    ...lamp,
    ...(accessories && { accessories: accessories.map(accessoryAcross) }),
    ...(distribution.kind === 'projection' &&
      shutters && {
        distribution: {
          ...distribution,
          shutters: shutters.map((cut) => ({ ...cut, turnDeg: plain(180 - cut.turnDeg) })),
        },
      }),
  };
}

function modifierAcross(modifier: Modifier): Modifier {
  const { shape, frame } = modifier;
  const turned = (ring: readonly (readonly [number, number])[]): [number, number][] =>
    ring.map(([right, up]) => [plain(-right), up]);
  const other = { left: 'right', right: 'left', top: 'top', bottom: 'bottom' } as const;
  return {
    ...modifier,
    shape:
      shape.kind === 'polygon'
        ? { ...shape, outlineM: turned(shape.outlineM), ...(shape.holesM && { holesM: shape.holesM.map(turned) }) }
        : shape,
    ...(frame && {
      frame: { ...frame, ...(frame.openSides && { openSides: frame.openSides.map((side) => other[side]) }) },
    }),
  };
}

/** The mirror image. Patterns stay as they are: a cucoloris is cut and a gate pattern is made the way it is. A web too. */
export function mirroredThing(thing: Thing, line: MirrorLine): Thing {
  if ('pose' in thing && thing.pose) {
    const pose = { positionM: place(line, thing.pose.positionM), aim: aimAcross(line, thing.pose.aim) };
    if ('material' in thing) return { ...modifierAcross(thing), pose };
    return 'type' in thing && thing.type === 'lamp' ? { ...lampAcross(thing), pose } : { ...thing, pose };
  }
  if (!('positionM' in thing)) return thing;
  const positionM = place(line, thing.positionM);
  return 'aim' in thing ? { ...thing, positionM, aim: aimAcross(line, thing.aim) } : { ...thing, positionM };
}
