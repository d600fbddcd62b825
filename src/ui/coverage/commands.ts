/** What the Coverage page does to the scene, as commands: moving a rig, a found layout as a setup, calibration. */
import type { Command, SingleCommand } from '../../scene/commands';
import type { Output, SceneDocument, Setup } from '../../scene/schema';
import type { EvenChoice } from '../../sim/coverage/evenOut';
import { lampsAt, rigOf } from '../../sim/coverage/rig';

/** Takes a lamp or group to a throw: one step of the history. @throws {RangeError} as `rigOf` and `lampsAt` */
export function throwCommand(
  document: SceneDocument,
  setupId: string,
  sourceId: string,
  surfaceId: string,
  distanceM: number,
  distanceWords: string,
): Command {
  const rig = rigOf(document, setupId, sourceId, surfaceId);
  const commands = lampsAt(rig, distanceM).flatMap(({ id, lamp }): SingleCommand[] => {
    const at = { kind: 'source', setupId, id } as const;
    const { positionM, aim } = lamp.pose;
    const before = rig.lamps.find((each) => each.id === id)!.lamp.pose.aim;
    return [{ type: 'move', at, positionM }, ...(aim === before ? [] : [{ type: 'aim', at, aim } as const])];
  });
  const names = rig.lamps.map(({ lamp }) => lamp.name).join(' + ');
  return { type: 'sequence', label: `Move ${names} to ${distanceWords}`, commands };
}

/** A found layout as a new setup beside the one it was found for; grip stays. */
export function layoutSetup(setup: Setup, id: string, choice: EvenChoice): Setup {
  const { lamps, throwM } = choice.layout;
  const sources = Object.fromEntries(choice.lampsAt.map(({ id: lampId, lamp }) => [lampId, lamp]));
  return { ...setup, id, name: `${lamps} lamps, throw ${throwM.toFixed(1)} m`, sources };
}

function scaled(output: Output, factor: number): Output {
  switch (output.kind) {
    case 'candela':
      return { ...output, candela: output.candela * factor };
    case 'lumens':
      return { ...output, lumens: output.lumens * factor };
    case 'luxAt':
      return { ...output, illuminanceLx: output.illuminanceLx * factor };
    case 'luminance':
      return { ...output, luminanceCdM2: output.luminanceCdM2 * factor };
    case 'file':
      return { ...output, factor: (output.factor ?? 1) * factor };
    case 'readings':
      return {
        ...output,
        readings: output.readings.map((each) => ({ ...each, illuminanceLx: each.illuminanceLx * factor })),
      };
  }
}

/** All lamps of a setup by one factor, their levels metered from now on; null where none is on. */
export function calibrationCommand(setup: Setup, factor: number): Command | null {
  const commands: SingleCommand[] = [];
  for (const [id, source] of Object.entries(setup.sources)) {
    if (source.type !== 'lamp' || source.off === true) continue;
    const output = scaled(source.output, factor);
    const at = { kind: 'source', setupId: setup.id, id } as const;
    commands.push({ type: 'patch', at, fields: { output, basis: 'metered' } });
  }
  return commands.length === 0 ? null : { type: 'sequence', label: `Calibrate ${setup.name} by readings`, commands };
}
