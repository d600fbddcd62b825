import { useLayoutEffect, useRef, useState } from 'react';
import { Button } from 'react-aria-components';
import type { Point2, SceneDocument } from '../../scene/schema';
import { formatLength } from '../../scene/units/format';
import { useApp, useDocument, useSession } from '../app';
import { ANGLE, fineLengthKind, lengthKind } from '../fields/kinds';
import { PickField } from '../fields/PickField';
import { QuantityField } from '../fields/QuantityField';
import { SwitchField } from '../fields/SwitchField';
import { axisWords } from '../panels/selected/PlaceFields';
import { isAreaKind, isLineKind, isSpotKind, isTapeKind, type DrawKind } from '../tools/draw/drawing';
import { markCommand, type DrawSettings } from '../tools/draw/drawnThings';
import { unitsOf, type Units } from '../words/format';
import { draw, DRAW_WORDS, endDraw, putOpeningAt, startDraw } from './drafting';
import { useMedia } from '../parts/useMedia';
import { nameInHand } from '../tools/draw/inHand';
import { MeasureFields } from './MeasureFields';
import { pickPicture } from '../planPicture/bringIn';
import { ScaleFields } from '../planPicture/ScaleFields';

interface Props {
  readonly units: Units;
}
const KINDS = (Object.keys(DRAW_WORDS) as DrawKind[]).filter((kind) => !isTapeKind(kind) && kind !== 'put');

/** Sets one of the settings that the next drawn thing takes. */
function useSetting() {
  const { session } = useApp();
  return (change: Partial<DrawSettings>): null => {
    session.setState(({ drawSettings }) => ({ drawSettings: { ...drawSettings, ...change } }));
    return null;
  };
}

/** First corner, then stretch by stretch: all that a press on the plan does, by figures. */
function CornerFields({ units }: Props) {
  const app = useApp();
  const corners = useSession((state) => state.drawing.corners);
  const axes = useDocument((state) => axisWords(state.shown).join('|')).split('|');
  const [start, setStart] = useState<Point2>([0, 0]);
  const [stretch, setStretch] = useState({ lengthM: 4, directionDeg: 90 });
  const length = lengthKind(units);
  if (corners.length === 0) {
    return (
      <>
        {[0, 1].map((axis) => (
          <QuantityField
            key={axis}
            label={`Corner ${(axes[axis] ?? '').toLowerCase()}`}
            value={start[axis] ?? 0}
            kind={length}
            onCommit={(value) => {
              setStart(axis === 0 ? [value, start[1]] : [start[0], value]);
              return null;
            }}
          />
        ))}
        <Button className="button" onPress={() => draw(app, { type: 'corner', at: start })}>
          Set corner
        </Button>
      </>
    );
  }
  return (
    <>
      <QuantityField
        label="Length"
        value={stretch.lengthM}
        kind={length}
        onCommit={(lengthM) => {
          if (lengthM <= 0) return 'A length above 0 is needed.';
          setStretch({ ...stretch, lengthM });
          return null;
        }}
      />
      <QuantityField
        label="Direction"
        value={stretch.directionDeg}
        kind={ANGLE}
        onCommit={(directionDeg) => {
          setStretch({ ...stretch, directionDeg });
          return null;
        }}
      />
      <Button className="button" onPress={() => draw(app, { type: 'typed', ...stretch })}>
        Set corner
      </Button>
    </>
  );
}

function CornerButtons({ kind }: { readonly kind: DrawKind }) {
  const app = useApp();
  const count = useSession((state) => state.drawing.corners.length);
  const canClose = count >= 3 && (kind === 'walls' || isAreaKind(kind));
  if (count === 0) return null;
  return (
    <div className="draw-acts">
      {canClose && (
        <Button className="button main" onPress={() => draw(app, { type: 'close' })}>
          {kind === 'walls' ? 'Close the room' : 'Close'}
        </Button>
      )}
      {kind === 'walls' && count >= 2 && (
        <Button className="button" onPress={() => draw(app, { type: 'finish' })}>
          End here
        </Button>
      )}
      <Button className="button" onPress={() => draw(app, { type: 'back' })}>
        Corner back
      </Button>
    </div>
  );
}

function KindSettings({ kind, units }: Props & { readonly kind: DrawKind }) {
  const settings = useSession((state) => state.drawSettings);
  const set = useSetting();
  const length = lengthKind(units);
  const above = (key: 'heightM' | 'openingWidthM' | 'openingHeightM') => (metres: number) =>
    metres > 0 ? set({ [key]: metres }) : 'A length above 0 is needed.';
  const atLeast = (key: 'thicknessM' | 'sillM') => (metres: number) =>
    metres >= 0 ? set({ [key]: metres }) : 'It cannot be below 0.';
  const isOpening = kind === 'window' || kind === 'door';
  const hasLevel = kind === 'top' || kind === 'ceiling' || kind === 'levelPlane' || kind === 'uprightPlane';
  return (
    <>
      {isLineKind(kind) && (
        <QuantityField label="High" value={settings.heightM} kind={length} onCommit={above('heightM')} />
      )}
      {kind === 'walls' && (
        <QuantityField
          label="Thick"
          value={settings.thicknessM}
          kind={fineLengthKind(units)}
          onCommit={atLeast('thicknessM')}
        />
      )}
      {hasLevel && (
        <QuantityField
          label="Above ground"
          value={settings.levelM}
          kind={length}
          onCommit={(levelM) => set({ levelM })}
        />
      )}
      {isOpening && (
        <>
          <QuantityField label="Wide" value={settings.openingWidthM} kind={length} onCommit={above('openingWidthM')} />
          <QuantityField
            label="High"
            value={settings.openingHeightM}
            kind={length}
            onCommit={above('openingHeightM')}
          />
        </>
      )}
      {kind === 'window' && (
        <QuantityField label="Sill" value={settings.sillM} kind={length} onCommit={atLeast('sillM')} />
      )}
      {isLineKind(kind) && (
        <SwitchField isOn={settings.isTurned} onChange={(isTurned) => set({ isTurned })}>
          Lit on the other side
        </SwitchField>
      )}
    </>
  );
}

/** The wall and the place along it, for who does not press on the plan. */
function OpeningByFigures({ kind, units }: Props & { readonly kind: 'window' | 'door' }) {
  const app = useApp();
  const surfaces = useDocument((state) => state.history.present.surfaces);
  const chosen = useSession((state) => state.surfaceId);
  const [picked, setPicked] = useState<string | null>(null);
  const [middleM, setMiddleM] = useState(1.5);
  const walls = Object.entries(surfaces).filter(([, surface]) => surface.kind === 'wall');
  const isWall = (id: string | null): id is string => walls.some(([wallId]) => wallId === id);
  const wallId = [picked, chosen].find(isWall) ?? walls[0]?.[0];
  if (wallId === undefined) return <p className="quiet">Draw a wall first.</p>;
  return (
    <>
      <PickField
        label="Wall"
        value={wallId}
        choices={walls.map(([value, { name }]) => ({ value, name }))}
        onPick={setPicked}
      />
      <QuantityField
        label="Middle, from left"
        value={middleM}
        kind={lengthKind(units)}
        onCommit={(value) => {
          setMiddleM(value);
          return null;
        }}
      />
      <Button className="button" onPress={() => putOpeningAt(app, kind, wallId, middleM)}>
        Put in
      </Button>
    </>
  );
}

function MarkByFigures({ units }: Props) {
  const app = useApp();
  const axes = useDocument((state) => axisWords(state.shown).join('|')).split('|');
  const [at, setAt] = useState<Point2>([0, 0]);
  const put = (): void => app.actions.runLoud(markCommand(app.document.getState().history.present, at));
  return (
    <>
      {[0, 1].map((axis) => (
        <QuantityField
          key={axis}
          label={axes[axis] ?? ''}
          value={at[axis] ?? 0}
          kind={lengthKind(units)}
          onCommit={(value) => {
            setAt(axis === 0 ? [value, at[1]] : [at[0], value]);
            return null;
          }}
        />
      ))}
      <Button className="button" onPress={put}>
        Put down
      </Button>
    </>
  );
}

function hintFor(kind: DrawKind, count: number): string {
  if (kind === 'mark') return 'Press where the mark lies.';
  if (kind === 'window' || kind === 'door')
    return `Press on a wall where the ${kind === 'door' ? 'doorway' : kind} goes, on the plan or in the wall’s elevation.`;
  if (count === 0) return 'Press where the first corner stands, or type it.';
  if (kind === 'walls') return 'Press corner after corner; on the first one to close, on the last one to end.';
  if (isAreaKind(kind)) return 'Press corner after corner; on the first one to close.';
  return 'Press where it ends.';
}

const totalM = (corners: readonly Point2[]): number =>
  corners.slice(1).reduce((sum, [x, y], index) => sum + Math.hypot(x - corners[index]![0], y - corners[index]![1]), 0);

/** A strip that closes under the keyboard leaves it on the drawing, where it goes on. */
function useFocusLeft(strip: React.RefObject<HTMLElement | null>): void {
  useLayoutEffect(() => {
    const own = strip.current;
    return () => {
      if (!own?.contains(document.activeElement)) return;
      own.closest('.sheet')?.querySelector<HTMLElement>('.drawing')?.focus({ preventScroll: true });
    };
  }, [strip]);
}

function DoneButton() {
  const app = useApp();
  return (
    <Button className="button" onPress={() => endDraw(app)}>
      Done
    </Button>
  );
}

/** What is drawn, how far, which way, and what it becomes. */
function DrawFields({ kind, units }: Props & { readonly kind: DrawKind }) {
  const app = useApp();
  const corners = useSession((state) => state.drawing.corners);
  return (
    <>
      <div className="draw-head">
        <PickField
          label="Draw"
          value={kind}
          choices={KINDS.map((value) => ({ value, name: DRAW_WORDS[value] }))}
          onPick={(next) => startDraw(app, next)}
        />
        <DoneButton />
      </div>
      <p className="quiet" role="status">
        {hintFor(kind, corners.length)}
        {corners.length > 1 && ` So far ${formatLength(totalM(corners), units.length)}.`}
      </p>
      {kind === 'mark' && <MarkByFigures units={units} />}
      {!isSpotKind(kind) && <CornerFields units={units} />}
      {!isSpotKind(kind) && <CornerButtons kind={kind} />}
      <KindSettings kind={kind} units={units} />
      {(kind === 'window' || kind === 'door') && <OpeningByFigures key={kind} kind={kind} units={units} />}
      <Button className="button wide" onPress={() => pickPicture(app)}>
        Bring in a plan picture
      </Button>
    </>
  );
}

function OpenStrip() {
  const strip = useRef<HTMLDivElement>(null);
  useFocusLeft(strip);
  const kind = useSession((state) => state.drawing.kind);
  const scene: SceneDocument = useDocument((state) => state.shown);
  const inHand = useSession((state) => state.inHand && nameInHand(state.inHand));
  const units = unitsOf(scene);
  const isDrawn = !isTapeKind(kind) && kind !== 'put';
  return (
    <div
      ref={strip}
      className="draw-strip"
      role="group"
      aria-label={isTapeKind(kind) ? DRAW_WORDS[kind] : 'Draw'}
      data-tape={isTapeKind(kind) || undefined}
    >
      {kind === 'measure' && <MeasureFields units={units} />}
      {kind === 'scale' && <ScaleFields units={units} />}
      {kind === 'put' && (
        <p role="status">{inHand === null ? 'Nothing is in hand.' : `${inHand}: press where it stands.`}</p>
      )}
      {isDrawn ? <DrawFields kind={kind} units={units} /> : <DoneButton />}
    </div>
  );
}

/** The strip over the plan while something is drawn or measured: what, how far, which way, and when it is done. */
export function DrawStrip() {
  const isOn = useSession((state) => state.tool === 'draw');
  return isOn ? <OpenStrip /> : null;
}

/** The strip again over an elevation, where windows and doorways can be pressed into the wall; beside the plan it stands there. */
export function OpeningStrip() {
  const isOpening = useSession(
    ({ tool, drawing: { kind } }) => tool === 'draw' && (kind === 'window' || kind === 'door'),
  );
  const isPlanBeside = useMedia('(width >= 1900px)');
  return isOpening && !isPlanBeside ? <DrawStrip /> : null;
}
