/** What the person at the screen is looking at and doing. Nothing here belongs to the scene, and none of it is saved with it. */
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { ObjectRef, PlanPixels, Quantity, SheetKind, Theme } from '../../render/contract';
import type { Point3, SceneDocument } from '../../scene/schema';
import type { SunFigure } from '../../sim/results';
import { startDrawing, type Drawing } from '../tools/draw/drawing';
import { FIRST_SETTINGS, type DrawSettings } from '../tools/draw/drawnThings';
import type { InHand } from '../tools/draw/inHand';
import { NO_OTHERS, type Also } from '../tools/chosen';
import type { WallPart } from '../tools/walls';
import type { ScreenPoint, ToolName } from '../tools/tool';

/** A point of a surface that is being read. */
export interface ReadingPlace {
  readonly surfaceId: string;
  readonly atM: Point3;
}
export type NoticeKind = 'done' | 'caution' | 'fault';
export interface Notice {
  readonly id: number;
  readonly kind: NoticeKind;
  /** One sentence, or one line for each fault of a file. */
  readonly lines: readonly string[];
  readonly action?: { readonly label: string; readonly run: () => void };
}
export type PanelHeight = 'low' | 'middle' | 'high';

export interface SessionState {
  readonly setupId: string;
  /** Setup that each setup made in this page was made from: where to go back to when it is gone again. */
  readonly madeFrom: Readonly<Record<string, string>>;
  /** Figure of the verdict that is explained and shown on the drawing; null: none. */
  readonly figure: SunFigure | null;
  /** Surface that the elevation shows; null: the first that something plays the sun on. */
  readonly surfaceId: string | null;
  /** Which of the setup's sun judgements the panel tells; null: the first. */
  readonly checkIndex: number;
  readonly selection: ObjectRef | null;
  /** What is chosen beside the selection. */
  readonly also: Also;
  /** Every press adds to what is chosen or takes from it, as with Shift held. */
  readonly several: boolean;
  /** Where the menu of the chosen things is open, page pixels; null: it is shut. */
  readonly menuAt: ScreenPoint | null;
  readonly hover: ObjectRef | null;
  /** Pictures of a plan that are unpacked, by id. */
  readonly planPixels: Readonly<Record<string, PlanPixels>>;
  readonly tool: ToolName;
  /** Corners that are being drawn on the plan; they are no part of the scene yet. */
  readonly drawing: Drawing;
  readonly drawSettings: DrawSettings;
  /** What of the chosen wall arrow keys move; holds only for that wall. */
  readonly wallPart: { readonly surfaceId: string; readonly part: WallPart };
  /** Walls that share a corner go along when it is moved. */
  readonly areWallsJoined: boolean;
  /** What the next press on the plan puts down, from the kit. */
  readonly inHand: InHand | null;
  readonly theme: Theme;
  /** The drawings, or the page that stands in their place. */
  readonly page: 'sheets' | 'coverage' | 'lessons';
  /** The form that looks for a lamp's place stands open. */
  readonly isMakingSun: boolean;
  readonly frontSheet: SheetKind;
  /** Where the Throw sheet has no place of its own, it stands in the front sheet's. */
  readonly isThrowInFront: boolean;
  /** The drawing that arrow keys refer to. */
  readonly activeSheet: SheetKind;
  readonly quantity: Quantity;
  readonly twin: boolean;
  /** Share of the elevation's width, from the left, that a swiped twin leaves to the lamp; null: not swiped. */
  readonly swipe: number | null;
  readonly place: ReadingPlace | null;
  readonly pin: ReadingPlace | null;
  readonly panelHeight: PanelHeight;
  readonly levelTables: readonly SheetKind[];
  readonly notices: readonly Notice[];
  /** The scene that opening another one put away; one press brings it back while the page is open. */
  readonly before: { readonly scene: SceneDocument; readonly fileName: string } | null;
}
export type SessionStore = StoreApi<SessionState>;

export function createSessionStore(initial: Pick<SessionState, 'setupId' | 'theme'>): SessionStore {
  return createStore<SessionState>()(() => ({
    ...initial,
    madeFrom: {},
    figure: null,
    surfaceId: null,
    checkIndex: 0,
    selection: null,
    also: NO_OTHERS,
    several: false,
    menuAt: null,
    hover: null,
    planPixels: {},
    tool: 'select',
    drawing: startDrawing(),
    drawSettings: FIRST_SETTINGS,
    wallPart: { surfaceId: '', part: 'whole' },
    areWallsJoined: true,
    inHand: null,
    page: 'sheets',
    isMakingSun: false,
    frontSheet: 'elevation',
    isThrowInFront: false,
    activeSheet: 'plan',
    quantity: 'illuminance',
    twin: false,
    swipe: null,
    place: null,
    pin: null,
    panelHeight: 'middle',
    levelTables: [],
    notices: [],
    before: null,
  }));
}

let lastNoticeId = 0;
/**
 * Adds a notice; the same words are not said twice at once. What says that something is done makes way for the next that
 * does: a heap of them lies over the drawings.
 */
export function notify(session: SessionStore, notice: Omit<Notice, 'id'>): void {
  const { notices } = session.getState();
  const words = notice.lines.join('\n');
  const others = notices.filter(
    (other) => other.lines.join('\n') !== words && !(notice.kind === 'done' && other.kind === 'done'),
  );
  lastNoticeId += 1;
  session.setState({ notices: [...others, { ...notice, id: lastNoticeId }] });
}
export const dismiss = (session: SessionStore, id: number): void =>
  session.setState(({ notices }) => ({ notices: notices.filter((notice) => notice.id !== id) }));

/** The part of a wall that is in hand. */
export const wallPartOf = ({ wallPart }: Pick<SessionState, 'wallPart'>, surfaceId: string): WallPart =>
  wallPart.surfaceId === surfaceId ? wallPart.part : 'whole';
