import { useState } from 'react';
import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { frameFromPose, worldFromLocal } from '../../scene/geometry/frames';
import type { Vec3 } from '../../scene/geometry/vector';
import type { SceneDocument } from '../../scene/schema';
import { boundingBox } from '../../sim/worker/bands';
import { useApp, useDocument } from '../app';
import { ANGLE, lengthKind, numberKind } from '../fields/kinds';
import { PickField } from '../fields/PickField';
import { QuantityField } from '../fields/QuantityField';
import { SwitchField } from '../fields/SwitchField';
import { listedGroups } from '../panels/ObjectList';
import { axisWords } from '../panels/selected/PlaceFields';
import { aimAt, copyBy, levelWith, mirrorAt, moveBy, swingBy, type Arranged } from '../tools/arrange';
import { anchorOf, nameOf, refKey } from '../tools/things';
import { unitsOf, type Units } from '../words/format';
import { carryOutArranged, chosenNow, whereOf } from './arranging';

export type Arrangement = 'move' | 'copy' | 'mirror' | 'aim' | 'level' | 'swing';
const TITLES: Readonly<Record<Arrangement, string>> = {
  move: 'Move by',
  copy: 'Copy',
  mirror: 'Mirror',
  aim: 'Aim at',
  level: 'Level with',
  swing: 'Swing',
};

interface Target {
  readonly value: string;
  readonly name: string;
  readonly atM: Vec3;
}
/** Things to aim at or to be level with: a surface by its middle, the rest by where they stand. */
function targetsOf(scene: SceneDocument, setupId: string, units: Units): Target[] {
  const refs = listedGroups(scene, setupId, units).flatMap((group) => group.things.map((thing) => thing.ref));
  return refs.flatMap((ref) => {
    if (ref.kind === 'picture' || ref.kind === 'dimension') return [];
    const surface = ref.kind === 'surface' ? scene.surfaces[ref.id] : undefined;
    const box = surface && boundingBox(surface.shape);
    const atM =
      surface && box
        ? worldFromLocal(frameFromPose(surface.pose), [box.leftM + box.widthM / 2, box.bottomM + box.heightM / 2])
        : anchorOf(scene, setupId, ref);
    return atM ? [{ value: refKey(ref), name: nameOf(scene, setupId, ref), atM }] : [];
  });
}

interface Figures {
  readonly offsetM: Vec3;
  readonly times: number;
  readonly axis: '0' | '1';
  readonly throughM: number;
  readonly asCopy: boolean;
  readonly target: string;
  readonly pointM: Vec3;
  readonly angleDeg: number;
}
const PIVOT_OWN = 'own';
const POINT = 'point';

function arranged(
  arrangement: Arrangement,
  figures: Figures,
  targets: readonly Target[],
  app: ReturnType<typeof useApp>,
): Arranged {
  const where = whereOf(app);
  const chosen = chosenNow(app);
  const chosenTarget = targets.find(({ value }) => value === figures.target)?.atM;
  switch (arrangement) {
    case 'move':
      return moveBy(where, chosen, figures.offsetM);
    case 'copy':
      return copyBy(where, chosen, figures.offsetM, figures.times);
    case 'mirror':
      return mirrorAt(where, chosen, figures.axis === '0' ? 0 : 1, figures.throughM, figures.asCopy);
    case 'aim':
      return aimAt(where, chosen, chosenTarget ?? figures.pointM);
    case 'level':
      return levelWith(where, chosen, (chosenTarget ?? figures.pointM)[2]);
    case 'swing':
      return swingBy(where, chosen, figures.angleDeg, chosenTarget ?? null);
  }
}

interface PartProps {
  readonly figures: Figures;
  readonly set: (change: Partial<Figures>) => null;
  readonly units: Units;
  readonly axes: readonly [string, string];
}
function PointFields({
  value,
  labels,
  onChange,
  units,
}: {
  readonly value: Vec3;
  readonly labels: readonly string[];
  readonly onChange: (value: Vec3) => null;
  readonly units: Units;
}) {
  return labels.map((label, axis) => (
    <QuantityField
      key={label}
      label={label}
      value={value[axis] ?? 0}
      kind={lengthKind(units)}
      onCommit={(metres) => onChange(value.map((old, i) => (i === axis ? metres : old)) as unknown as Vec3)}
    />
  ));
}

function TargetFields({
  arrangement,
  figures,
  set,
  units,
  axes,
  targets,
}: PartProps & { readonly arrangement: Arrangement; readonly targets: readonly Target[] }) {
  const own =
    arrangement === 'swing'
      ? [{ value: PIVOT_OWN, name: 'the point it looks at' }]
      : [{ value: POINT, name: arrangement === 'level' ? 'a height' : 'a point' }];
  const isTyped = arrangement !== 'swing' && figures.target === POINT;
  return (
    <>
      <PickField
        label={arrangement === 'swing' ? 'Round' : TITLES[arrangement]}
        value={figures.target}
        choices={[...own, ...targets.map(({ value, name }) => ({ value, name }))]}
        onPick={(target) => set({ target })}
      />
      {arrangement === 'swing' && (
        <QuantityField
          label="Clockwise from above"
          value={figures.angleDeg}
          kind={ANGLE}
          onCommit={(angleDeg) => set({ angleDeg })}
        />
      )}
      {isTyped && arrangement === 'aim' && (
        <PointFields
          value={figures.pointM}
          labels={[...axes, 'Height']}
          units={units}
          onChange={(pointM) => set({ pointM })}
        />
      )}
      {isTyped && arrangement === 'level' && (
        <QuantityField
          label="Height"
          value={figures.pointM[2]}
          kind={lengthKind(units)}
          onCommit={(heightM) => set({ pointM: [figures.pointM[0], figures.pointM[1], heightM] })}
        />
      )}
    </>
  );
}

function MirrorFields({ figures, set, units, axes }: PartProps) {
  return (
    <>
      <PickField
        label="Upright mirror"
        value={figures.axis}
        choices={[
          { value: '0', name: `at one ${axes[0].toLowerCase()}` },
          { value: '1', name: `at one ${axes[1].toLowerCase()}` },
        ]}
        onPick={(axis) => set({ axis })}
      />
      <QuantityField
        label={axes[figures.axis === '0' ? 0 : 1]}
        value={figures.throughM}
        kind={lengthKind(units)}
        onCommit={(throughM) => set({ throughM })}
      />
      <SwitchField isOn={figures.asCopy} onChange={(asCopy) => void set({ asCopy })}>
        Keep the first, make a copy
      </SwitchField>
    </>
  );
}

/** Figures for one arrangement of what is chosen; the typed twin of every drag. */
export function ArrangeDialog({
  arrangement,
  onClose,
}: {
  readonly arrangement: Arrangement;
  readonly onClose: () => void;
}) {
  const app = useApp();
  const scene = useDocument((state) => state.history.present);
  const { setupId } = app.session.getState();
  const units = unitsOf(scene);
  const axes = axisWords(scene);
  const targets = targetsOf(scene, setupId, units);
  const [fault, setFault] = useState<string | null>(null);
  const [figures, setFigures] = useState<Figures>(() => {
    const first = chosenNow(app)[0];
    const at = (first && anchorOf(scene, setupId, first)) ?? [0, 0, 0];
    return {
      offsetM: arrangement === 'copy' ? [1, 0, 0] : [0, 0, 0],
      times: 1,
      axis: '0',
      throughM: Number(at[0].toFixed(3)),
      asCopy: true,
      target: arrangement === 'swing' ? PIVOT_OWN : POINT,
      pointM: [Number(at[0].toFixed(3)), Number(at[1].toFixed(3)), Number(at[2].toFixed(3))],
      angleDeg: 10,
    };
  });
  const set = (change: Partial<Figures>): null => {
    setFigures({ ...figures, ...change });
    return null;
  };
  const part = { figures, set, units, axes };
  const doIt = (): void => {
    const refused = carryOutArranged(app, arranged(arrangement, figures, targets, app));
    setFault(refused);
    if (refused === null) onClose();
  };
  return (
    <ModalOverlay className="veil" isOpen isDismissable onOpenChange={(next) => !next && onClose()}>
      <Modal>
        <Dialog className="dialog">
          <Heading slot="title" level={2}>
            {TITLES[arrangement]}
          </Heading>
          <div className="fields">
            {(arrangement === 'move' || arrangement === 'copy') && (
              <PointFields
                value={figures.offsetM}
                labels={[`${axes[0]}, by`, `${axes[1]}, by`, 'Up, by']}
                units={units}
                onChange={(offsetM) => set({ offsetM })}
              />
            )}
            {arrangement === 'copy' && (
              <QuantityField
                label="How many"
                value={figures.times}
                kind={numberKind('', 0)}
                onCommit={(times) => set({ times })}
              />
            )}
            {arrangement === 'mirror' && <MirrorFields {...part} />}
            {(arrangement === 'aim' || arrangement === 'level' || arrangement === 'swing') && (
              <TargetFields {...part} arrangement={arrangement} targets={targets} />
            )}
          </div>
          {fault !== null && (
            <p className="hint bad" role="alert">
              {fault}
            </p>
          )}
          <div className="buttons">
            <Button className="button main" onPress={doIt}>
              {TITLES[arrangement]}
            </Button>
            <Button className="button" onPress={onClose}>
              Cancel
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
