import { memo, useRef, type RefObject } from 'react';
import { Button, ToggleButton, ToggleButtonGroup } from 'react-aria-components';
import type { Quantity, SheetKind } from '../../render/contract';
import { lookingTowards, sectionProjection } from '../../render/projections';
import { keyIlluminanceLx } from '../../sim/exposure/exposure';
import type { SceneDocument } from '../../scene/schema';
import { formatPercent } from '../../scene/units/format';
import { useApp, useDocument, useResults, useSession } from '../app';
import { DrawStrip, OpeningStrip } from '../drafting/DrawStrip';
import { LevelTable } from '../panels/LevelTable';
import { Glyph } from '../parts/Glyphs';
import { Guard } from '../parts/Guard';
import { resampled } from '../stores/twin';
import { elevationSurfaceId, planSurfaceId, sectionSourceId } from '../stores/shownPlaces';
import { setupOf, sourceOf } from '../tools/things';
import { levelBandOf, lowerFirst, unitsOf } from '../words/format';
import { levelTable } from '../words/levels';
import { mapSurfaceId, quantityOn } from './sheetState';
import { SheetStatus } from './SheetStatus';
import { TwinDivider } from './TwinDivider';
import { SHEET_WORDS, SheetView, ZOOM_STEP, type SheetHandle } from './SheetView';

export type SheetPlace = 'front' | 'left' | 'right';

interface Heading {
  readonly title: string;
  readonly subtitle: string;
}

function headingOf(
  kind: SheetKind,
  document: SceneDocument,
  setupId: string,
  surfaceId: string | null,
  sourceId: string | null,
): Heading {
  const surface = surfaceId === null ? undefined : document.surfaces[surfaceId];
  if (kind === 'section') {
    const source = sourceId === null ? undefined : sourceOf(document, setupId, sourceId);
    if (source?.type !== 'lamp') return { title: 'Section', subtitle: 'Needs a lamp to cut along' };
    const wind = lookingTowards(sectionProjection(source.pose), document.northDeg ?? 0);
    return { title: `Section through ${source.name}`, subtitle: wind === null ? '' : `Looking ${wind}` };
  }
  if (kind === 'plan')
    return { title: 'Plan', subtitle: surface ? `Levels on the ${lowerFirst(surface.name)}` : 'From above' };
  if (!surface) return { title: 'Elevation', subtitle: '' };
  const finish = [surface.finish, surface.reflectance === undefined ? '' : formatPercent(surface.reflectance)];
  return { title: `Elevation: ${lowerFirst(surface.name)}`, subtitle: finish.filter(Boolean).join(', ') };
}

const QuantityChoice = memo(function QuantityChoice() {
  const { session } = useApp();
  const quantity = useSession((state) => state.quantity);
  const isLux = useDocument((state) => unitsOf(state.shown).illuminance === 'lux');
  const choices: readonly { readonly id: Quantity; readonly name: string }[] = [
    { id: 'illuminance', name: isLux ? 'Lux' : 'Footcandles' },
    { id: 'stopsOff', name: 'Stops off' },
    { id: 'lampOverSun', name: 'Lamp over sun' },
  ];
  return (
    <ToggleButtonGroup
      className="segments"
      aria-label="What the map shows"
      selectionMode="single"
      disallowEmptySelection
      selectedKeys={[quantity]}
      onSelectionChange={(keys) => {
        const [key] = keys;
        if (key !== undefined) session.setState({ quantity: key as Quantity });
      }}
    >
      {choices.map(({ id, name }) => (
        <ToggleButton key={id} id={id}>
          {name}
        </ToggleButton>
      ))}
    </ToggleButtonGroup>
  );
});

const TwinToggle = memo(function TwinToggle() {
  const { session } = useApp();
  const twin = useSession((state) => state.twin);
  return (
    <ToggleButton className="toggle" isSelected={twin} onChange={(isOn) => session.setState({ twin: isOn })}>
      Sun twin
    </ToggleButton>
  );
});

/** Lays the sun's levels over the lamp's, right of a divider; there once the twin is. */
function SwipeToggle() {
  const { session } = useApp();
  const swipe = useSession((state) => state.swipe);
  const isThere = useSession((state) => state.twin && state.quantity !== 'lampOverSun');
  if (!isThere) return null;
  return (
    <ToggleButton
      className="toggle"
      isSelected={swipe !== null}
      onChange={(isOn) => session.setState({ swipe: isOn ? 0.5 : null })}
    >
      Swipe
    </ToggleButton>
  );
}

const TableToggle = memo(function TableToggle({ kind }: { readonly kind: SheetKind }) {
  const { session } = useApp();
  const isOpen = useSession((state) => state.levelTables.includes(kind));
  const toggle = (): void =>
    session.setState(({ levelTables }) => ({
      levelTables: isOpen ? levelTables.filter((other) => other !== kind) : [...levelTables, kind],
    }));
  return (
    <ToggleButton className="toggle front-only" isSelected={isOpen} onChange={toggle} aria-label="Table of levels">
      <Glyph name="table" size={16} />
    </ToggleButton>
  );
});

interface ViewProps {
  readonly kind: SheetKind;
  readonly handle: RefObject<SheetHandle | null>;
}
const ViewButtons = memo(function ViewButtons({ kind, handle }: ViewProps) {
  const name = SHEET_WORDS[kind].toLowerCase();
  return (
    <div className="view-buttons">
      <Button
        className="button front-only"
        aria-label={`Zoom out, ${name}`}
        onPress={() => handle.current?.zoom(1 / ZOOM_STEP)}
      >
        <Glyph name="zoomOut" size={16} />
      </Button>
      <Button
        className="button front-only"
        aria-label={`Zoom in, ${name}`}
        onPress={() => handle.current?.zoom(ZOOM_STEP)}
      >
        <Glyph name="zoomIn" size={16} />
      </Button>
      <Button className="button" aria-label={`Fit, ${name}`} onPress={() => handle.current?.fit()}>
        <Glyph name="fit" size={16} />
      </Button>
    </div>
  );
});

function Levels({ kind }: { readonly kind: SheetKind }) {
  const isOpen = useSession((state) => state.levelTables.includes(kind));
  return isOpen ? <OpenLevels kind={kind} /> : null;
}

function OpenLevels({ kind }: { readonly kind: SheetKind }) {
  const document = useDocument((state) => state);
  const session = useSession((state) => state);
  const surfaceId = mapSurfaceId(kind, document, session);
  const field = useResults((state) => (surfaceId === null ? undefined : state.fields[surfaceId]));
  const twin = useResults((state) => (surfaceId === null ? undefined : state.twin?.fields[surfaceId]));
  if (!field || surfaceId === null) return null;
  const quantity = quantityOn(kind, session, twin !== undefined);
  const { result } = field;
  const sun = twin && resampled(twin, result.columns, result.rows);
  const table = levelTable(result, quantity, keyIlluminanceLx(document.shown.camera), unitsOf(document.shown), sun);
  const name = document.shown.surfaces[surfaceId]?.name ?? surfaceId;
  const band = levelBandOf(document.shown, session.setupId);
  return (
    <LevelTable id={`levels-${kind}`} surfaceName={lowerFirst(name)} quantity={quantity} table={table} band={band} />
  );
}

/** The way to the Throw sheet where it has no place beside the drawings. */
function ThrowButton() {
  const { session } = useApp();
  return (
    <Button
      className="button flat front-only narrow-only"
      onPress={() => session.setState({ isThrowInFront: true })}
      aria-label="Throw: what distance does"
    >
      Throw
    </Button>
  );
}

function EmptySheet() {
  const { actions } = useApp();
  return (
    <div className="sheet-empty">
      <p>Nothing lights this scene yet. Place a lamp first; then drag it, or type where it stands.</p>
      <div>
        <Button className="button main" onPress={() => actions.place('lamp')}>
          Place a lamp
        </Button>
        <Button className="button" onPress={() => actions.openDemo()}>
          Open the demo scene
        </Button>
      </div>
    </div>
  );
}

/** A drawing with its title, its choices and its state. In the strip, its title brings it to the front. */
export function SheetFrame({ kind, place }: { readonly kind: SheetKind; readonly place: SheetPlace }) {
  const { actions } = useApp();
  const handle = useRef<SheetHandle>(null);
  const setupId = useSession((state) => state.setupId);
  const surfaceChoice = useSession((state) => state.surfaceId);
  const selection = useSession((state) => state.selection);
  const elevationId = useDocument((state) => elevationSurfaceId(state.shown, { surfaceId: surfaceChoice }));
  // Only words are asked for, so that a drag that changes none of them does not draw the frame anew.
  const headingIn = ({ shown }: { readonly shown: SceneDocument }): Heading =>
    headingOf(
      kind,
      shown,
      setupId,
      kind === 'plan' ? planSurfaceId(shown) : elevationId,
      sectionSourceId(shown, setupId, selection),
    );
  const title = useDocument((state) => headingIn(state).title);
  const subtitle = useDocument((state) => headingIn(state).subtitle);
  const isEmpty = useDocument((state) => Object.keys(setupOf(state.shown, setupId)?.sources ?? {}).length === 0);
  return (
    <section className="sheet" data-kind={kind} data-place={place} aria-label={title}>
      <header>
        <h2>
          {place === 'front' ? (
            <span>{title}</span>
          ) : (
            <Button onPress={() => actions.toFront(kind)} aria-label={`${title}: bring to the front`}>
              {title}
            </Button>
          )}
        </h2>
        <span className="quiet">{subtitle}</span>
        <span className="grow" />
        {kind === 'elevation' && (
          <div className="front-only choices">
            <QuantityChoice />
            <TwinToggle />
            <SwipeToggle />
          </div>
        )}
        <ThrowButton />
        {kind !== 'section' && <TableToggle kind={kind} />}
        <ViewButtons kind={kind} handle={handle} />
      </header>
      <div className="sheet-body">
        {kind === 'plan' && <DrawStrip />}
        {kind === 'elevation' && place === 'front' && <OpeningStrip />}
        <div className="drawing-box">
          <Guard what={`The ${SHEET_WORDS[kind].toLowerCase()}`}>
            <SheetView kind={kind} handle={handle} />
          </Guard>
          {kind === 'elevation' && !isEmpty && <TwinDivider handle={handle} surfaceId={elevationId} />}
          {kind === 'elevation' && isEmpty && <EmptySheet />}
          {kind === 'elevation' && !isEmpty && <SheetStatus surfaceId={elevationId} />}
        </div>
      </div>
      <Levels kind={kind} />
    </section>
  );
}
