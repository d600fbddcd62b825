import { useState } from 'react';
import { Button, Dialog, Heading, Modal, ModalOverlay, ToggleButton } from 'react-aria-components';
import { useApp, useDocument } from '../app';
import { lengthKind } from '../fields/kinds';
import { PickField } from '../fields/PickField';
import { QuantityField } from '../fields/QuantityField';
import { unitsOf } from '../words/format';
import { startDraw } from './drafting';
import { figuresFault, FIRST_FIGURES, startScene, type StartFigures, type StartKind } from './starts';

const STARTS: readonly { readonly kind: StartKind; readonly name: string; readonly words: string }[] = [
  {
    kind: 'windowAndWall',
    name: 'A window and a wall',
    words: 'A room, a lamp outside its window, and the wall it lands on: a verdict at once.',
  },
  { kind: 'room', name: 'A room with a window', words: 'Four walls, a floor and a window; no lamp yet.' },
  { kind: 'wallAndFloor', name: 'A wall and a floor', words: 'One wall to light, as on an open stage.' },
  { kind: 'bare', name: 'Bare ground', words: 'Nothing. Draw the walls on the plan, corner by corner.' },
];

const MOST_ROOM_M = 200;

function Figures({
  kind,
  figures,
  onChange,
}: {
  readonly kind: StartKind;
  readonly figures: StartFigures;
  readonly onChange: (figures: StartFigures) => void;
}) {
  const length = lengthKind(unitsOf(useDocument((state) => state.shown)));
  if (kind === 'bare' || kind === 'wallAndFloor') return null;
  const rows: readonly (readonly [keyof StartFigures & `${string}M`, string])[] = [
    ['widthM', 'Window wall, long'],
    ['depthM', 'Room, deep'],
    ['heightM', 'Room, high'],
    ['windowWidthM', 'Window, wide'],
    ['windowHeightM', 'Window, high'],
    ['sillM', 'Sill'],
    ...(kind === 'windowAndWall' ? ([['lampDistanceM', 'Lamp to window']] as const) : []),
  ];
  return (
    <div className="fields">
      {rows.map(([key, label]) => (
        <QuantityField
          key={key}
          label={label}
          value={figures[key]}
          kind={length}
          onCommit={(metres) => {
            if (metres <= 0 || metres > MOST_ROOM_M) return `A length above 0 and up to ${MOST_ROOM_M} m is needed.`;
            const next = { ...figures, [key]: metres };
            onChange(next);
            return null;
          }}
        />
      ))}
      {kind === 'windowAndWall' && (
        <PickField
          label="Light lands on"
          value={figures.lit}
          choices={[
            { value: 'beside', name: 'the wall beside' },
            { value: 'facing', name: 'the wall facing' },
          ]}
          onPick={(lit) => onChange({ ...figures, lit })}
        />
      )}
    </div>
  );
}

function Starts({ onClose }: { readonly onClose: () => void }) {
  const app = useApp();
  const [kind, setKind] = useState<StartKind>('windowAndWall');
  const [figures, setFigures] = useState(FIRST_FIGURES);
  const needsRoom = kind === 'room' || kind === 'windowAndWall';
  const fault = needsRoom ? figuresFault(figures) : null;
  const make = (): void => {
    app.actions.newScene(startScene(kind, figures));
    if (kind === 'bare') startDraw(app, 'walls');
    else app.session.setState({ tool: 'select' });
    onClose();
  };
  return (
    <>
      <div className="starts" role="group" aria-label="Start from">
        {STARTS.map((start) => (
          <ToggleButton
            key={start.kind}
            className="start"
            isSelected={start.kind === kind}
            onChange={() => setKind(start.kind)}
          >
            <strong>{start.name}</strong>
            <small>{start.words}</small>
          </ToggleButton>
        ))}
      </div>
      <Figures kind={kind} figures={figures} onChange={setFigures} />
      {fault !== null && (
        <p className="hint bad" role="alert">
          {fault}
        </p>
      )}
      <p className="quiet">The scene that is open now stays one press away under More.</p>
      <div className="buttons">
        <Button className="button main" isDisabled={fault !== null} onPress={make}>
          Make the scene
        </Button>
        <Button className="button" onPress={onClose}>
          Cancel
        </Button>
      </div>
    </>
  );
}

export function StartDialog({ isOpen, onClose }: { readonly isOpen: boolean; readonly onClose: () => void }) {
  return (
    <ModalOverlay className="veil" isOpen={isOpen} isDismissable onOpenChange={(next) => !next && onClose()}>
      <Modal>
        <Dialog className="dialog wide">
          <Heading slot="title" level={2}>
            New scene
          </Heading>
          <Starts onClose={onClose} />
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
