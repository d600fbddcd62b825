import type { Camera } from '../../scene/schema';
import { INCIDENT_CONSTANT_DOME, INCIDENT_CONSTANT_FLAT } from '../../sim/exposure/exposure';
import { useApp, useDocument } from '../app';
import { ANGLE, numberKind } from '../fields/kinds';
import { QuantityField } from '../fields/QuantityField';

/** What the camera is set for: everything that "stops off" refers to. */
export function CameraFields() {
  const { actions } = useApp();
  const camera = useDocument((state) => state.shown.camera);
  const patch = (fields: Partial<Camera>): string | null => actions.run({ type: 'patchScene', part: 'camera', fields });
  return (
    <div className="fields">
      <QuantityField label="ISO" value={camera.iso} kind={numberKind('', 0, 100)} onCommit={(iso) => patch({ iso })} />
      <QuantityField
        label="T-stop"
        value={camera.tStop}
        kind={numberKind('', 1)}
        onCommit={(tStop) => patch({ tStop })}
      />
      <QuantityField
        label="Frame rate"
        value={camera.framesPerSecond}
        kind={numberKind('fps', 2, 1)}
        onCommit={(framesPerSecond) => patch({ framesPerSecond })}
      />
      <QuantityField
        label="Shutter"
        value={camera.shutterAngleDeg}
        kind={ANGLE}
        onCommit={(shutterAngleDeg) => patch({ shutterAngleDeg })}
      />
      <QuantityField
        label="White balance"
        value={camera.whiteBalanceK ?? null}
        kind={numberKind('K', 0, 100)}
        optional={{
          word: 'not given',
          onClear: () => actions.run({ type: 'patchScene', part: 'camera', fields: {}, clear: ['whiteBalanceK'] }),
        }}
        onCommit={(whiteBalanceK) => patch({ whiteBalanceK })}
      />
      <QuantityField
        label="Offset of this camera"
        value={camera.offsetStops ?? 0}
        kind={numberKind('stops', 2, 0.1)}
        onCommit={(offsetStops) => patch({ offsetStops })}
      />
      <QuantityField
        label="Constant C, flat"
        value={camera.incidentConstantFlat ?? INCIDENT_CONSTANT_FLAT}
        kind={numberKind('', 0)}
        hint="ISO 2720"
        onCommit={(incidentConstantFlat) => patch({ incidentConstantFlat })}
      />
      <QuantityField
        label="Constant C, dome"
        value={camera.incidentConstantDome ?? INCIDENT_CONSTANT_DOME}
        kind={numberKind('', 0)}
        hint="ISO 2720"
        onCommit={(incidentConstantDome) => patch({ incidentConstantDome })}
      />
    </div>
  );
}
