import { useEffect, useRef } from 'react';
import { Button } from 'react-aria-components';
import type { ObjectRef } from '../../render/contract';
import { useApp, useDocument, useSession } from '../app';
import { modifierOf, nameOf, openingOf, refKey, sourceOf } from '../tools/things';
import { unitsOf } from '../words/format';
import { showUnderVerdict } from '../parts/showUnderVerdict';
import { GripButtons } from '../grip/GripButtons';
import { CameraFields } from './CameraFields';
import { GripFields } from './selected/GripFields';
import { DimensionFields } from './selected/DimensionFields';
import { MarkFields } from './selected/MarkFields';
import { PictureFields } from './selected/PictureFields';
import { MeterFields, OpeningFields, SurfaceFields } from './selected/SetFields';
import { SourceFields } from './selected/SourceFields';

const KIND_WORDS: Readonly<Record<ObjectRef['kind'], string>> = {
  source: 'lamp',
  modifier: 'grip',
  surface: 'surface',
  opening: 'opening',
  meter: 'meter',
  mark: 'mark',
  picture: 'picture of a plan',
  dimension: 'dimension',
  camera: 'camera',
};

function ThingFields({ thing }: { readonly thing: ObjectRef }) {
  const document = useDocument((state) => state.shown);
  const setupId = useSession((state) => state.setupId);
  const common = { thing, document, units: unitsOf(document) };
  switch (thing.kind) {
    case 'source': {
      const source = sourceOf(document, setupId, thing.id);
      return source ? <SourceFields {...common} source={source} /> : null;
    }
    case 'modifier': {
      const modifier = modifierOf(document, setupId, thing.id);
      return modifier ? <GripFields {...common} modifier={modifier} /> : null;
    }
    case 'surface': {
      const surface = document.surfaces[thing.id];
      return surface ? <SurfaceFields {...common} surface={surface} /> : null;
    }
    case 'opening': {
      const found = openingOf(document, thing);
      return found ? <OpeningFields {...common} opening={found.opening} /> : null;
    }
    case 'meter': {
      const meter = document.meters[thing.id];
      return meter ? <MeterFields {...common} meter={meter} /> : null;
    }
    case 'mark': {
      const mark = document.marks?.[thing.id];
      return mark ? <MarkFields {...common} mark={mark} /> : null;
    }
    case 'picture': {
      const picture = document.pictures?.[thing.id];
      return picture ? <PictureFields {...common} picture={picture} /> : null;
    }
    case 'dimension': {
      const dimension = document.dimensions?.[thing.id];
      return dimension ? <DimensionFields {...common} dimension={dimension} /> : null;
    }
    case 'camera':
      return <CameraFields />;
  }
}

/** Every field of the chosen thing, to be typed exactly. */
export function SelectedPanel() {
  const { actions, session } = useApp();
  const arrangeButton = useRef<HTMLButtonElement>(null);
  const openArrange = (): void => {
    const box = arrangeButton.current?.getBoundingClientRect();
    if (box) session.setState({ menuAt: { x: box.left, y: box.bottom } });
  };
  const card = useRef<HTMLElement>(null);
  const selection = useSession((state) => state.selection);
  const setupId = useSession((state) => state.setupId);
  const name = useDocument((state) => (selection ? nameOf(state.shown, setupId, selection) : null));
  const isSun = useDocument(
    (state) => selection?.kind === 'source' && sourceOf(state.shown, setupId, selection.id)?.type === 'sun',
  );
  const key = selection && refKey(selection);
  useEffect(() => {
    // The list lies further down: whoever chooses there stays there.
    const isInList = document.activeElement?.closest('.things') !== null && document.activeElement !== null;
    if (key !== null && !isInList) showUnderVerdict(card.current);
  }, [key]);
  return (
    <section className="card selected" aria-labelledby="selected-title" data-testid="selected" ref={card}>
      <header>
        <h2 id="selected-title">Selected{name !== null && `: ${name}`}</h2>
        {selection && <span>{isSun ? 'sun' : KIND_WORDS[selection.kind]}</span>}
      </header>
      {selection ? (
        <>
          <div className="fields" key={refKey(selection)}>
            <ThingFields thing={selection} />
          </div>
          <GripButtons thing={selection} />
          {selection.kind !== 'camera' && (
            <div className="buttons">
              <Button className="button" ref={arrangeButton} onPress={openArrange}>
                Arrange
              </Button>
              <Button className="button" onPress={() => actions.remove(selection)}>
                Remove
              </Button>
            </div>
          )}
        </>
      ) : (
        <p className="quiet">Nothing. Press a lamp, a net, a window or a wall in a drawing, or choose it below.</p>
      )}
    </section>
  );
}
