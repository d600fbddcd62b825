import { useEffect, useRef, useState, type RefObject } from 'react';
import type { ObjectRef, Sheet, SheetKind, SheetState } from '../../render/contract';
import { createSheet } from '../../render/createSheet';
import type { Vec3 } from '../../scene/geometry/vector';
import { hasPhotometricEnding } from '../../files/photometry/openPhotometricFile';
import { useApp, type App } from '../app';
import { isArrow, nudgeEdit, nudgeStepM, type ArrowKey } from '../tools/nudge';
import { draw, drawKey } from '../drafting/drafting';
import { pressOnWall, putsOpenings, wallKey } from '../drafting/wallActs';
import { dropOnPlan } from '../planPicture/bringIn';
import { reduceDrawPointer, type DrawPointerResult } from '../tools/draw/drawPointer';
import { reduce } from '../tools/select';
import { IDLE, type ScreenPoint, type ToolEvent, type ToolResult, type ToolState } from '../tools/tool';
import { chosenRefs } from '../tools/chosen';
import { anchorOf, sameRef } from '../tools/things';
import { formatPlace, unitsOf } from '../words/format';
import { RestingFinger } from './restingFinger';
import { travelNote } from './travelNote';
import { mapSurfaceId, sheetState } from './sheetState';

export const ZOOM_STEP = 1.25;
/** Under a finger the reading's cross sits above the touch, CSS pixels. */
const FINGER_LIFT_PX = 48;

/** How far behind the drawings follow that nobody works in, ms. */
const FOLLOW_MS = 200;
/** How long the note of a nudge stays, ms. */
const NOTE_MS = 2500;

interface Note {
  readonly at: ScreenPoint;
  readonly words: string;
}

/** What the buttons in a sheet's header do to its view. */
export interface SheetHandle {
  /** Place of a world point on the drawing, CSS pixels from its top left. */
  screenFromWorld(world: Vec3): ScreenPoint;
  zoom(factor: number): void;
  fit(): void;
}

/** Connects one drawing with the stores and the tools. Lives as long as its host element. */
class SheetDriver implements SheetHandle {
  private tool: ToolState = IDLE;
  private ghost: SheetState['ghost'] = null;
  private snaps: SheetState['snaps'] = [];
  private frameAround: SheetState['frame'] = null;
  private readonly finger = new RestingFinger();
  private frame = 0;
  private slowTimer: ReturnType<typeof setTimeout> | undefined;
  private noteTimer: ReturnType<typeof setTimeout> | undefined;
  private readonly cleanups: (() => void)[] = [];
  private readonly app: App;
  private readonly kind: SheetKind;
  private readonly sheet: Sheet;
  private readonly host: HTMLElement;
  private readonly onNote: (note: Note | null) => void;

  constructor(app: App, kind: SheetKind, sheet: Sheet, host: HTMLElement, onNote: (note: Note | null) => void) {
    this.app = app;
    this.kind = kind;
    this.sheet = sheet;
    this.host = host;
    this.onNote = onNote;
  }

  start(): void {
    const { document, session, results } = this.app;
    const refresh = (): void => this.refresh();
    this.cleanups.push(document.subscribe(refresh), session.subscribe(refresh));
    this.cleanups.push(
      results.subscribe((state, before) => {
        // A map that has landed is what the hand waits for.
        const surfaceId = mapSurfaceId(this.kind, document.getState(), session.getState()) ?? '';
        if (state.fields[surfaceId] !== before.fields[surfaceId]) this.refreshSoon();
        else refresh();
      }),
    );
    this.cleanups.push(
      document.subscribe((state, before) => {
        if (state.opened === before.opened) return;
        this.draw();
        this.sheet.fit();
      }),
    );
    this.listen('pointerdown', (event) => this.onPointerDown(event));
    this.listen('pointermove', (event) => this.onPointerMove(event));
    this.listen('pointerup', (event) =>
      this.feed({ type: 'up', pointerId: event.pointerId, at: this.at(event), alt: event.altKey }),
    );
    this.listen('pointercancel', () => this.feed({ type: 'cancel' }));
    this.listen('pointerenter', () => session.setState({ activeSheet: this.kind }));
    this.listen('pointerleave', () => this.feed({ type: 'leave' }));
    this.listen('keydown', (event) => this.onKeyDown(event));
    this.listen('focus', () => session.setState({ activeSheet: this.kind }));
    this.listen('contextmenu', (event) => {
      event.preventDefault();
      if (event.button === 2 && this.tool.name === 'idle') this.openMenu(event, false);
    });
    this.listen('drop', (event) => this.onDrop(event));
    const onWheel = (event: WheelEvent): void => {
      event.preventDefault();
      this.sheet.zoomAt(this.at(event), Math.exp(-event.deltaY * 0.0015));
    };
    this.host.addEventListener('wheel', onWheel, { passive: false });
    const onBlur = (): void => this.feed({ type: 'cancel' });
    const onEscape = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape' || this.tool.name === 'idle') return;
      event.stopPropagation();
      this.feed({ type: 'cancel' });
    };
    window.addEventListener('blur', onBlur);
    window.addEventListener('keydown', onEscape, true);
    this.cleanups.push(() => {
      this.host.removeEventListener('wheel', onWheel);
      window.removeEventListener('blur', onBlur);
      window.removeEventListener('keydown', onEscape, true);
    });
    this.draw();
    this.sheet.fit();
  }

  stop(): void {
    cancelAnimationFrame(this.frame);
    clearTimeout(this.noteTimer);
    clearTimeout(this.slowTimer);
    this.finger.end();
    for (const cleanup of this.cleanups) cleanup();
    this.sheet.destroy();
  }

  screenFromWorld(world: Vec3): ScreenPoint {
    return this.sheet.screenFromWorld(world);
  }
  zoom(factor: number): void {
    this.sheet.zoomAt({ x: this.host.clientWidth / 2, y: this.host.clientHeight / 2 }, factor);
  }
  fit(): void {
    this.sheet.fit();
  }

  private listen<K extends keyof HTMLElementEventMap>(type: K, handler: (event: HTMLElementEventMap[K]) => void): void {
    this.host.addEventListener(type, handler);
    this.cleanups.push(() => this.host.removeEventListener(type, handler));
  }
  private at(event: MouseEvent): ScreenPoint {
    const box = this.host.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }
  /** The drawing under the hand follows every frame; the others a little behind, so that they do not slow it down. */
  private refresh(): void {
    if (this.app.session.getState().activeSheet === this.kind || this.tool.name !== 'idle') this.refreshSoon();
    else this.slowTimer ??= setTimeout(() => this.refreshSoon(), FOLLOW_MS);
  }
  private refreshSoon(): void {
    clearTimeout(this.slowTimer);
    this.slowTimer = undefined;
    if (this.frame !== 0) return;
    this.frame = requestAnimationFrame(() => {
      this.frame = 0;
      this.draw();
    });
  }
  private draw(): void {
    const { document, session, results } = this.app;
    this.sheet.update({
      ...sheetState(this.kind, document.getState(), session.getState(), results.getState(), this.ghost),
      snaps: this.snaps,
      frame: this.frameAround ?? null,
    });
  }

  private onPointerDown(event: PointerEvent): void {
    this.host.focus({ preventScroll: true });
    this.host.setPointerCapture(event.pointerId);
    const touch = event.pointerType === 'touch';
    const adds = event.shiftKey || this.app.session.getState().several;
    this.feed({ type: 'down', pointerId: event.pointerId, at: this.at(event), button: event.button, touch, adds });
    if (touch) this.finger.begin(() => this.onLongPress(event));
  }
  /** A finger that rests opens the menu, as the second button does. */
  private onLongPress(event: PointerEvent): void {
    if (this.tool.name !== 'pressed') return;
    this.feed({ type: 'cancel' });
    this.openMenu(event, true);
  }
  /** The menu of the chosen things; pressed beside them, of the thing under the pointer. */
  private openMenu(event: MouseEvent, touch: boolean): void {
    const { actions, session, document } = this.app;
    if (session.getState().tool === 'draw') return;
    const object = this.sheet.hitTest(this.at(event), touch)?.object ?? null;
    const chosen = chosenRefs(document.getState().shown, session.getState().setupId, session.getState());
    if (object && !chosen.some((ref) => sameRef(ref, object))) actions.select(object);
    session.setState({ menuAt: { x: event.clientX, y: event.clientY } });
  }
  /** The same by key, beside the chosen thing, or at the rim of the drawing that it lies beyond. */
  private openMenuByKey(): void {
    const { session, document } = this.app;
    const { selection, setupId } = session.getState();
    const anchor = selection && anchorOf(document.getState().shown, setupId, selection);
    const box = this.host.getBoundingClientRect();
    const at = anchor ? this.sheet.screenFromWorld(anchor) : { x: box.width / 2, y: box.height / 2 };
    const within = (place: number, size: number): number => Math.max(0, Math.min(size, place));
    session.setState({ menuAt: { x: box.left + within(at.x, box.width), y: box.top + within(at.y, box.height) } });
  }
  /** A photometric file dropped on a lamp is for that lamp, a picture for the plan; anything else is for the page. */
  private onDrop(event: DragEvent): void {
    const file = event.dataTransfer?.files[0];
    if (file && this.kind === 'plan' && dropOnPlan(this.app, file)) return event.preventDefault();
    const object = this.sheet.hitTest(this.at(event), true)?.object;
    if (!file || object?.kind !== 'source' || !hasPhotometricEnding(file.name)) return;
    event.preventDefault();
    void this.app.actions.openFile(file, object);
  }
  private onPointerMove(event: PointerEvent): void {
    const touch = event.pointerType === 'touch';
    const at = this.at(event);
    this.feed({ type: 'move', pointerId: event.pointerId, at, touch, alt: event.altKey });
    if (this.tool.name === 'idle' && !touch) this.read(at);
  }
  private read(at: ScreenPoint): void {
    const place = this.sheet.surfacePointAt(at);
    if (place) this.app.session.setState({ place });
  }

  private onKeyDown(event: KeyboardEvent): void {
    if (event.ctrlKey || event.metaKey) return;
    const { selection, tool } = this.app.session.getState();
    if (tool === 'draw' && this.kind === 'plan' && drawKey(this.app, event.key)) {
      event.preventDefault();
      event.stopPropagation();
      return;
    }
    if (event.key === 'ContextMenu' || (event.key === 'F10' && event.shiftKey)) this.openMenuByKey();
    else if (isArrow(event.key) && selection) {
      const wall = this.kind === 'plan' ? wallKey(this.app, selection, event.key, nudgeStepM(event)) : null;
      if (wall) this.noteAt([...wall.at, 0], wall.words);
      else this.nudge(selection, event.key, nudgeStepM(event));
    } else if (event.key === '+' || event.key === '=') this.zoom(ZOOM_STEP);
    else if (event.key === '-') this.zoom(1 / ZOOM_STEP);
    else if (event.key === '0') this.fit();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }
  private nudge(selection: ObjectRef, key: ArrowKey, stepM: number): void {
    const { session, document, actions } = this.app;
    const { setupId } = session.getState();
    const results = this.app.results.getState();
    const { surfaceId, sourceId } = sheetState(this.kind, document.getState(), session.getState(), results, null);
    const view = { kind: this.kind, surfaceId, sourceId };
    const edit = nudgeEdit(document.getState().history.present, setupId, selection, key, stepM, view);
    if (edit) actions.carry(edit, true);
    this.noteSelected();
  }

  /** Says beside the nudged thing where it now stands, for a moment. */
  private noteSelected(): void {
    const { session, document } = this.app;
    const { selection, setupId } = session.getState();
    const { shown } = document.getState();
    const anchor = selection && anchorOf(shown, setupId, selection);
    if (anchor) this.noteAt(anchor, formatPlace(anchor, unitsOf(shown)));
  }
  private noteAt(place: Vec3, words: string): void {
    this.onNote({ at: this.sheet.screenFromWorld(place), words });
    clearTimeout(this.noteTimer);
    this.noteTimer = setTimeout(() => this.onNote(null), NOTE_MS);
  }

  private feed(event: ToolEvent): void {
    const { session, document } = this.app;
    const { tool, setupId, drawing, areWallsJoined } = session.getState();
    const before = this.tool;
    const present = document.getState().history.present;
    const chosen = chosenRefs(present, setupId, session.getState());
    const context = { tool, setupId, document: present, sheet: this.sheet, chosen, areWallsJoined };
    const isDrawing = tool === 'draw' && this.kind === 'plan';
    const result: DrawPointerResult = isDrawing
      ? reduceDrawPointer(before, event, { ...context, drawing })
      : reduce(before, event, context);
    this.tool = result.state;
    if (this.kind === 'elevation' && putsOpenings(this.app) && before.name === 'pressed' && event.type === 'up') {
      this.finger.end();
      return pressOnWall(this.app, this.sheet.surfacePointAt(event.at));
    }
    this.apply(result, event);
    if (result.drew) draw(this.app, result.drew, result.onSurfaceId);
    const isTap = before.name === 'pressed' && before.touch && event.type === 'up';
    if (isTap) this.read({ x: event.at.x, y: event.at.y - (before.hit ? 0 : FINGER_LIFT_PX) });
  }
  private apply(result: ToolResult, event: ToolEvent): void {
    const { actions, session } = this.app;
    if (this.tool.name !== 'pressed') this.finger.end();
    if (result.wallPart) session.setState({ wallPart: result.wallPart });
    if (result.select !== undefined) actions.select(result.select);
    if (result.toggle) actions.toggle(result.toggle);
    if (result.choose) actions.choose(result.choose);
    if (result.frame !== undefined) this.frameAround = result.frame;
    if (result.draft) actions.carry(result.draft, false);
    else if (result.draft === null) actions.draftEdit(null);
    if (result.commit) actions.carry(result.commit, true);
    if (result.hover !== undefined && !sameRef(result.hover, session.getState().hover)) {
      session.setState({ hover: result.hover });
    }
    if (result.cursor) this.host.dataset['cursor'] = result.cursor;
    for (const change of result.view ?? []) {
      if (change.kind === 'pan') this.sheet.panBy(change.deltaX, change.deltaY);
      else this.sheet.zoomAt(change.at, change.factor);
    }
    if (result.ghost !== undefined) this.ghost = this.ghostOf(result.ghost);
    if (result.snaps !== undefined) this.snaps = result.snaps;
    if (result.travel === null) this.onNote(null);
    else if (result.travel && 'at' in event) {
      clearTimeout(this.noteTimer);
      const units = unitsOf(this.app.document.getState().shown);
      this.onNote({ at: event.at, words: travelNote(result.travel, units, this.snaps) });
    }
    this.refresh();
  }
  private ghostOf(ref: ObjectRef | null): SheetState['ghost'] {
    return ref && { object: ref, document: this.app.document.getState().history.present };
  }
}

export const SHEET_WORDS: Readonly<Record<SheetKind, string>> = {
  plan: 'Plan',
  elevation: 'Elevation',
  section: 'Section',
};

interface Props {
  readonly kind: SheetKind;
  readonly handle: RefObject<SheetHandle | null>;
}

/** The page's side of one drawing: its host element and the note beside a drag. */
export function SheetView({ kind, handle }: Props) {
  const app = useApp();
  const host = useRef<HTMLDivElement>(null);
  const [note, setNote] = useState<Note | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [drawingFault, setDrawingFault] = useState<Error | null>(null);

  useEffect(() => {
    const element = host.current;
    if (!element) return undefined;
    const sheet = createSheet(kind, setDrawingFault);
    const own = new SheetDriver(app, kind, sheet, element, setNote);
    let gone = false;
    const attached = sheet.attach(element).then(
      () => {
        if (gone) return;
        handle.current = own;
        own.start();
      },
      (thrown: unknown) => setFault(thrown instanceof Error ? thrown.message : String(thrown)),
    );
    return () => {
      gone = true;
      handle.current = null;
      // A drawing that is still being made is ended once it is there.
      void attached.then(() => own.stop());
    };
  }, [app, kind, handle]);

  if (drawingFault) throw drawingFault; // the guard round the sheet says so and offers another try
  return (
    <>
      <div
        id={`drawing-${kind}`}
        ref={host}
        className="drawing"
        role="application"
        tabIndex={0}
        aria-label={`${SHEET_WORDS[kind]} drawing`}
        aria-roledescription="drawing"
        aria-description="Arrow keys nudge the chosen thing; plus, minus and 0 zoom and fit."
      />
      {fault !== null && (
        <div className="sheet-empty" role="alert">
          <p>Nothing can be drawn here: {fault}. The figures in the panel still hold.</p>
        </div>
      )}
      {note && (
        <div
          className="drag-note"
          data-x={note.at.x}
          data-y={note.at.y}
          style={{ left: note.at.x + 18, top: Math.max(4, note.at.y - 34) }}
        >
          {note.words}
        </div>
      )}
    </>
  );
}
