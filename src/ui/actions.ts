/** Everything the screens can do to the scene and to themselves: buttons, keys and tools all come through here. */
import { applyCommand, labelOf, type Command } from '../scene/commands';
import {
  hasPhotometricEnding,
  openPhotometricFile,
  PHOTOMETRIC_ENDINGS,
} from '../files/photometry/openPhotometricFile';
import { emptyScene } from '../scene/emptyScene';
import { redoLabel, undoLabel } from '../scene/history';
import { formatFault, loadScene } from '../scene/load';
import { saveScene } from '../scene/save';
import type { ObjectRef, SheetKind } from '../render/contract';
import type { SceneDocument } from '../scene/schema';
import demoText from '../../scenes-demo/customs-office-shaft.json?raw';
import type { Mend } from '../sim/mends/mend';
import type { Placement } from '../sim/place/placeAnswer';
import type { PlaceRequest } from '../sim/place/placeRequest';
import backdropText from '../../scenes-demo/harbour-backdrop.json?raw';
import hallText from '../../scenes-demo/drill-hall-falloff.json?raw';
import { execute, openDocument, redoStep, setDraft, undoStep, type DocumentStore } from './stores/document';
import type { MendsStore } from './stores/mends';
import { notify, type SessionStore } from './stores/session';
import { elevationSurfaceId } from './stores/shownPlaces';
import { carryCommand } from './tools/carry';
import { choiceOf, chosenRefs, toggled, withGroup } from './tools/chosen';
import { commandFor, thingRefOf } from './tools/commandFor';
import type { Edit } from './tools/edits';
import { ifThere, nameOf } from './tools/things';
import { setupLetter } from './words/format';
import { MEND_WORDS } from './words/mends';
import { bringIn, bringInToKit, type OpenedWeb } from './bringInFile';
import { placementCommand } from './makeSun/sunWanted';
import { freshId, newFlag, newLamp, newMeter, newNet } from './newThings';

export const DEMO_FILE_NAME = 'customs-office-shaft.json';
export type NewKind = 'lamp' | 'net' | 'flag' | 'meter';

export interface Actions {
  /** Does a command; a refusal is returned and not shown. */
  run(command: Command): string | null;
  /** Does a command; a refusal becomes a notice. */
  runLoud(command: Command): void;
  draft(command: Command | null): void;
  draftEdit(edit: Edit | null): void;
  commitEdit(edit: Edit): void;
  /** Chooses a thing, and with it the rest of its group. */
  select(ref: ObjectRef | null): void;
  /** Chooses several; the first leads. */
  choose(refs: readonly ObjectRef[]): void;
  /** Adds a thing to what is chosen, or takes it out. */
  toggle(ref: ObjectRef): void;
  /** Carries the thing of a drag, and whatever is chosen with it. */
  carry(edit: Edit, isDone: boolean): void;
  remove(ref: ObjectRef): void;
  place(kind: NewKind): void;
  undo(): void;
  redo(): void;
  chooseSetup(setupId: string): void;
  copySetup(): void;
  /** Makes a setup of a mend, beside the one that it mends, and shows it. */
  tryMend(mend: Mend): void;
  /** Makes a setup of a found placement, with the sun and the camera that it was asked for. @returns whether it stands */
  tryPlacement(request: PlaceRequest, placement: Placement, sentence: string): boolean;
  removeSetup(): void;
  toFront(sheet: SheetKind): void;
  openText(text: string, fileName: string): boolean;
  /** Opens a scene, or brings in a photometric file: for the lamp under it, the chosen lamp, or a new one. */
  openFile(file: File, onto?: ObjectRef | null): Promise<void>;
  /** Asks for a photometric file for one lamp. */
  pickPhotometricFile(onto: ObjectRef): void;
  /** As above for an own lamp of the kit, or with null for a new one there. */
  pickKitFile(entryId: string | null): void;
  /** Asks for a file and opens it. */
  pickFile(): void;
  keepCopy(): void;
  /** Opens a scene that was just made. */
  newScene(scene?: SceneDocument): void;
  openDemo(): void;
  /** Opens the scene of the evenly lit cloth. */
  openBackdrop(): void;
  /** Opens the scene of the fall-off exercises. */
  openDrillHall(): void;
  /** Opens the scene of an exercise as it stands, with the setup that it is about. */
  openLesson(scene: SceneDocument, setupId: string, fileName: string): void;
  /** Shows the scene that was open before the last one was opened; does nothing where there is none. */
  backToBefore(): void;
}

/** Name of a file for a scene: its words in small letters with hyphens. */
export function fileNameFor(document: SceneDocument): string {
  const words = document.name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '');
  return `${words || 'scene'}.json`;
}

function download(text: string, fileName: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

const MAX_FILE_BYTES = 50_000_000;
/** More than the reader takes, so that it can say so. */
const MOST_PHOTOMETRIC_BYTES = 8_000_000;

export function askForFile(accept: string, onFile: (file: File) => void): void {
  const input = window.document.createElement('input');
  input.type = 'file';
  input.accept = accept;
  input.addEventListener('change', () => {
    const file = input.files?.[0];
    if (file) onFile(file);
  });
  input.click();
}

export function createActions(document: DocumentStore, session: SessionStore, mends: MendsStore): Actions {
  const present = (): SceneDocument => document.getState().history.present;
  const setupId = (): string => session.getState().setupId;
  const say = (line: string, action?: { label: string; run: () => void }): void =>
    notify(session, { kind: 'done', lines: [line], ...(action && { action }) });
  const refuse = (fault: string): void => notify(session, { kind: 'caution', lines: [fault] });

  /** After the scene has changed under the session: what is gone is let go. */
  function settle(): void {
    const { setups } = present();
    const state = session.getState();
    const known = [state.setupId, state.madeFrom[state.setupId]];
    const kept = known.find((id) => setups.some((setup) => setup.id === id)) ?? setups[0]?.id ?? '';
    session.setState({
      setupId: kept,
      selection: ifThere(present(), kept, state.selection),
      hover: null,
    });
  }
  function run(command: Command): string | null {
    const fault = execute(document, command);
    if (fault === null) settle();
    return fault;
  }
  function runLoud(command: Command): void {
    const fault = run(command);
    if (fault !== null) refuse(fault);
  }
  function undo(): void {
    const label = undoLabel(document.getState().history);
    undoStep(document);
    settle();
    if (label !== null) say(`Taken back: ${label}`);
  }
  function redo(): void {
    const label = redoLabel(document.getState().history);
    redoStep(document);
    settle();
    if (label !== null) say(`Done again: ${label}`);
  }
  function showScene(scene: SceneDocument, fileName: string): void {
    const first = scene.setups[0]?.id ?? '';
    session.setState({
      setupId: first,
      surfaceId: null,
      checkIndex: 0,
      selection: null,
      hover: null,
      place: null,
      pin: null,
      notices: session.getState().notices.filter((notice) => notice.kind !== 'fault'),
    });
    openDocument(document, scene, fileName);
  }
  function openText(text: string, fileName: string): boolean {
    const result = loadScene(text, fileName);
    if (result.ok) {
      showScene(result.document, fileName);
      return true;
    }
    const lines = result.faults.map(formatFault);
    notify(session, { kind: 'fault', lines: [...lines, `${fileName} was not opened. The open scene is as it was.`] });
    return false;
  }
  async function openWeb(file: File): Promise<OpenedWeb | null> {
    // A file of any length is refused by its length; there is no need to hold it all for that.
    const bytes = new Uint8Array(await file.slice(0, MOST_PHOTOMETRIC_BYTES).arrayBuffer());
    const opened = openPhotometricFile(bytes, file.name, file.size);
    if (!opened.ok) {
      const lines = [formatFault(opened.fault), 'Nothing was brought in. The open scene is as it was.'];
      notify(session, { kind: 'fault', lines });
      return null;
    }
    return { fileName: file.name, ...opened };
  }
  async function bringInFile(file: File, onto: ObjectRef | null): Promise<void> {
    const opened = await openWeb(file);
    if (opened === null) return;
    const scene = present();
    const ref = onto ?? session.getState().selection;
    const surfaceId = elevationSurfaceId(scene, session.getState());
    const lampId = ref?.kind === 'source' ? ref.id : null;
    const brought = bringIn(scene, setupId(), surfaceId, lampId, opened);
    const fault = run(brought.command);
    if (fault !== null) return refuse(fault);
    session.setState({ selection: ifThere(present(), setupId(), { kind: 'source', id: brought.lampId }) });
    say(brought.said, { label: 'Undo', run: undo });
  }
  async function bringFileToKit(file: File, entryId: string | null): Promise<void> {
    const opened = await openWeb(file);
    if (opened === null) return;
    const { command, said } = bringInToKit(present(), entryId, opened);
    const fault = run(command);
    if (fault !== null) return refuse(fault);
    say(said, { label: 'Undo', run: undo });
  }
  async function openFile(file: File, onto: ObjectRef | null = null): Promise<void> {
    if (hasPhotometricEnding(file.name)) return bringInFile(file, onto);
    if (file.size > MAX_FILE_BYTES) {
      notify(session, { kind: 'fault', lines: [`${file.name} is over 50 MB; no scene is. Nothing was opened.`] });
      return;
    }
    const text = await file.text();
    replaceWith(() => openText(text, file.name), `Opened: ${file.name}`);
  }
  /** Opening replaces the scene; the one before stays one press away. */
  function replaceWith(open: () => boolean, said: string): void {
    const before = { scene: present(), fileName: document.getState().fileName };
    if (!open()) return;
    session.setState({ before });
    say(said, { label: 'Back to the scene before', run: backToBefore });
  }
  function backToBefore(): void {
    const { before } = session.getState();
    if (!before) return;
    session.setState({ before: { scene: present(), fileName: document.getState().fileName } });
    showScene(before.scene, before.fileName);
  }

  /** Shows a setup that was just made from another one. */
  function showMade(id: string, fromId: string): void {
    session.setState(({ madeFrom }) => ({ setupId: id, madeFrom: { ...madeFrom, [id]: fromId } }));
  }

  function place(kind: NewKind): void {
    const scene = present();
    const surfaceId = elevationSurfaceId(scene, session.getState());
    const made = { lamp: newLamp, net: newNet, flag: newFlag, meter: newMeter }[kind](scene, setupId(), surfaceId);
    const id = freshId(scene, kind);
    const ref: ObjectRef = { kind: kind === 'lamp' ? 'source' : kind === 'meter' ? 'meter' : 'modifier', id };
    const at = thingRefOf(setupId(), ref);
    if (!at) return;
    const playsSun = scene.story?.playsSun ?? [];
    const first = kind === 'lamp' && surfaceId !== null && playsSun.length === 0;
    const add = { type: 'add', at, value: made } as const;
    const story = { ...scene.story, playsSun: [{ sourceId: id, surfaceId: surfaceId ?? '' }] };
    runLoud(
      first
        ? {
            type: 'sequence',
            label: `Add ${made.name}`,
            commands: [add, { type: 'patchScene', part: 'story', fields: story }],
          }
        : add,
    );
    const placed = ifThere(present(), setupId(), ref);
    session.setState({ selection: placed, tool: 'select' });
    if (placed) say(`${made.name} placed: drag it, nudge it with arrow keys, or type where it stands`);
  }

  return {
    run,
    runLoud,
    draft: (command) => setDraft(document, command),
    draftEdit: (edit) => setDraft(document, edit && commandFor(present(), setupId(), edit)),
    commitEdit(edit) {
      const command = commandFor(present(), setupId(), edit);
      if (command) runLoud(command);
      else setDraft(document, null);
    },
    select(ref) {
      const surface = ref?.kind === 'surface' ? { surfaceId: ref.id } : {};
      session.setState({ ...choiceOf(ref ? withGroup(present(), setupId(), ref) : []), ...surface });
    },
    choose: (refs) => session.setState(choiceOf(refs)),
    toggle(ref) {
      session.setState(choiceOf(toggled(chosenRefs(present(), setupId(), session.getState()), ref)));
    },
    carry(edit, isDone) {
      const command = carryCommand(present(), setupId(), edit, chosenRefs(present(), setupId(), session.getState()));
      if (!isDone || !command) setDraft(document, command);
      else runLoud(command);
    },
    remove(ref) {
      const at = thingRefOf(setupId(), ref);
      if (!at) return;
      const name = nameOf(present(), setupId(), ref);
      const command: Command = { type: 'remove', at };
      const result = applyCommand(present(), command);
      if (!result.ok) return refuse(result.fault);
      run(command);
      say(`${name} removed`, { label: 'Undo', run: undo });
    },
    place,
    undo,
    redo,
    chooseSetup: (id) => {
      session.setState({ setupId: id, selection: ifThere(present(), id, session.getState().selection), checkIndex: 0 });
    },
    copySetup() {
      const setup = present().setups.find(({ id }) => id === setupId());
      if (!setup) return;
      const id = freshId(present(), 'setup');
      const command: Command = { type: 'copySetup', setupId: setup.id, id, name: `${setup.name}, copy` };
      const fault = run(command);
      if (fault !== null) return refuse(fault);
      showMade(id, setup.id);
      say(`Copied: ${setup.name}`, { label: 'Undo', run: undo });
    },
    tryMend(mend) {
      const { setups } = present();
      const index = setups.findIndex(({ id }) => id === setupId());
      const from = setups[index];
      if (!from || !mend.setup) return;
      const id = freshId(present(), 'setup');
      const name = `${from.name}, ${MEND_WORDS[mend.kind].toLowerCase()}`;
      const setup = { ...mend.setup, id, name, notes: mend.sentence };
      const fault = run({ type: 'addSetup', setup, index: index + 1 });
      if (fault !== null) return refuse(fault);
      mends.setState(({ tried }) => ({ tried: { ...tried, [id]: mend } }));
      showMade(id, from.id);
      say(`Setup ${setupLetter(index + 1)} made from the mend`, { label: 'Undo', run: undo });
    },
    tryPlacement(request, placement, sentence) {
      const { setups } = present();
      const index = setups.findIndex(({ id }) => id === request.setupId) + 1;
      const id = freshId(present(), 'setup');
      const made = { id, name: `A sun by ${placement.lampName}`, notes: sentence, index };
      const fault = run(placementCommand(present(), request, placement, made));
      if (fault !== null) refuse(fault);
      else {
        showMade(id, request.setupId);
        session.setState({ surfaceId: request.surfaceId, checkIndex: 0 });
        say(`Setup ${setupLetter(index)} made from the place that was found`, { label: 'Undo', run: undo });
      }
      return fault === null;
    },
    removeSetup() {
      const command: Command = { type: 'removeSetup', setupId: setupId() };
      const label = labelOf(command, present());
      const fault = run(command);
      if (fault !== null) return refuse(fault);
      say(`Done: ${label}`, { label: 'Undo', run: undo });
    },
    toFront: (sheet) => session.setState({ frontSheet: sheet, activeSheet: sheet, isThrowInFront: false }),
    openText,
    openFile,
    pickFile: () => askForFile('.json,application/json', (file) => void openFile(file)),
    pickPhotometricFile: (onto) => askForFile(PHOTOMETRIC_ENDINGS.join(','), (file) => void bringInFile(file, onto)),
    pickKitFile: (entryId) => askForFile(PHOTOMETRIC_ENDINGS.join(','), (file) => void bringFileToKit(file, entryId)),
    keepCopy() {
      const name = fileNameFor(present());
      download(saveScene(present()), name);
      say(`Copy kept: ${name}`);
    },
    newScene: (scene = emptyScene()) =>
      replaceWith(() => {
        showScene(scene, fileNameFor(scene));
        return true;
      }, 'New scene made'),
    backToBefore,
    openBackdrop: () => replaceWith(() => openText(backdropText, 'harbour-backdrop.json'), 'Harbour backdrop opened'),
    openDrillHall: () => replaceWith(() => openText(hallText, 'drill-hall-falloff.json'), 'Drill hall opened'),
    openLesson: (scene, lessonSetupId, fileName) =>
      replaceWith(() => {
        showScene(scene, fileName);
        session.setState({ setupId: lessonSetupId, page: 'sheets' });
        return true;
      }, 'The exercise’s scene opened'),
    openDemo: () => replaceWith(() => openText(demoText, DEMO_FILE_NAME), 'Demo scene opened'),
  };
}
/** The demo scene's file, shipped with the page. */
export const demoSceneText = demoText;
