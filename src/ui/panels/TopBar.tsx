import {
  Button,
  Dialog,
  DialogTrigger,
  Menu,
  MenuItem,
  MenuTrigger,
  Popover,
  Separator,
  ToggleButton,
} from 'react-aria-components';
import type { Theme } from '../../render/contract';
import { redoLabel, undoLabel } from '../../scene/history';
import { formatTStop } from '../../scene/units/format';
import { useApp, useDocument, useSaving, useSession } from '../app';
import { Fractions } from '../parts/Fractions';
import { Glyph, ProductMark } from '../parts/Glyphs';
import { useMedia } from '../parts/useMedia';
import { setTheme, THEME_NAMES } from '../theme';
import { unitsOf } from '../words/format';
import { CameraFields } from './CameraFields';
import { SetupTabs } from './SetupTabs';
import { WordsField } from '../fields/WordsField';

const clockWords = (at: Date): string =>
  `${String(at.getHours()).padStart(2, '0')}:${String(at.getMinutes()).padStart(2, '0')}`;

function useSavedWords(): string {
  const saving = useSaving((state) => state);
  switch (saving.kind) {
    case 'saved':
      return `Saved ${clockWords(saving.at)}`;
    case 'waiting':
      return 'Saving';
    case 'failed':
      return 'Not stored';
    case 'elsewhere':
      return 'Open in another tab';
  }
}

function CameraChip() {
  const camera = useDocument((state) => state.history.present.camera);
  return (
    <DialogTrigger>
      <Button className="chip camera-chip">
        <span className="hidden-word">Camera basis: </span>
        <span>
          ISO <b>{camera.iso}</b>
        </span>{' '}
        <b>
          <Fractions text={formatTStop(camera.tStop)} />
        </b>{' '}
        <span className="less">{camera.framesPerSecond} fps</span> <b className="less">{camera.shutterAngleDeg}°</b>
      </Button>
      <CameraPopover />
    </DialogTrigger>
  );
}
function CameraPopover() {
  return (
    <Popover className="popover">
      <Dialog className="camera-card" aria-label="Camera basis">
        <h2>Camera basis</h2>
        <CameraFields />
      </Dialog>
    </Popover>
  );
}

const THEMES: readonly Theme[] = ['dark', 'dim', 'light'];
function ThemeMenu() {
  const { session } = useApp();
  const theme = useSession((state) => state.theme);
  return (
    <MenuTrigger>
      <Button className="button" aria-label={`Theme: ${THEME_NAMES[theme]}`}>
        {THEME_NAMES[theme]}
      </Button>
      <Popover className="popover">
        <Menu
          className="menu"
          aria-label="Theme"
          selectionMode="single"
          disallowEmptySelection
          selectedKeys={[theme]}
          onSelectionChange={(keys) => {
            const [key] = keys === 'all' ? [] : [...keys];
            if (key !== undefined) setTheme(session, key as Theme);
          }}
        >
          {THEMES.map((name) => (
            <MenuItem key={name} id={name}>
              {THEME_NAMES[name]}
            </MenuItem>
          ))}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}

/** One of four pairs of units, as lamps and tapes are read. */
const UNIT_PAIRS = [
  { id: 'lux metres', name: 'lux and metres', short: 'lx · m' },
  { id: 'footcandles feet', name: 'footcandles and feet', short: 'fc · ft' },
  { id: 'lux feet', name: 'lux and feet', short: 'lx · ft' },
  { id: 'footcandles metres', name: 'footcandles and metres', short: 'fc · m' },
] as const;
function UnitsMenu() {
  const { actions } = useApp();
  const units = useDocument(
    (state) => `${unitsOf(state.history.present).illuminance} ${unitsOf(state.history.present).length}`,
  );
  const current = UNIT_PAIRS.find(({ id }) => id === units) ?? UNIT_PAIRS[0];
  const change = (id: string): void => {
    const [illuminance, length] = id.split(' ') as ['lux' | 'footcandles', 'metres' | 'feet'];
    actions.runLoud({ type: 'patchScene', part: 'display', fields: { illuminance, length } });
  };
  return (
    <MenuTrigger>
      <Button className="chip wide-only">
        <span className="hidden-word">Units: </span>
        {current.short}
      </Button>
      <Popover className="popover">
        <Menu
          className="menu"
          aria-label="Units"
          selectionMode="single"
          disallowEmptySelection
          selectedKeys={[current.id]}
          onSelectionChange={(keys) => {
            const [key] = keys === 'all' ? [] : [...keys];
            if (key !== undefined) change(String(key));
          }}
        >
          {UNIT_PAIRS.map(({ id, name }) => (
            <MenuItem key={id} id={id}>
              {name}
            </MenuItem>
          ))}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}

interface BarProps {
  readonly onNew: () => void;
  readonly onRename: () => void;
  readonly onCamera: () => void;
  readonly onCompare: () => void;
}

/** Tablet portrait and below: what does not fit the bar goes into the menu. */
const useIsNarrow = (): boolean => useMedia('(width < 900px)');

function SceneMenu({ onNew, onRename, onCamera, onCompare }: BarProps) {
  const { actions, session } = useApp();
  const saved = useSavedWords();
  const isNarrow = useIsNarrow();
  const theme = useSession((state) => state.theme);
  const nextTheme = THEMES[(THEMES.indexOf(theme) + 1) % THEMES.length] ?? 'dark';
  const hasBefore = useSession((state) => state.before !== null);
  const setupCount = useDocument((state) => state.history.present.setups.length);
  const units = unitsOf(useDocument((state) => state.history.present));
  const setupId = useSession((state) => state.setupId);
  const place = useDocument((state) => state.history.present.setups.findIndex(({ id }) => id === setupId));
  const moveSetup = (by: -1 | 1): void => actions.runLoud({ type: 'moveSetup', setupId, index: place + by });
  const act: Readonly<Record<string, () => void>> = {
    open: () => actions.pickFile(),
    theme: () => setTheme(session, nextTheme),
    new: onNew,
    demo: () => actions.openDemo(),
    backdrop: () => actions.openBackdrop(),
    hall: () => actions.openDrillHall(),
    coverage: () => session.setState({ page: 'coverage' }),
    makeSun: () => session.setState({ isMakingSun: true }),
    lessons: () => session.setState({ page: 'lessons' }),
    before: () => actions.backToBefore(),
    names: onRename,
    camera: onCamera,
    compare: onCompare,
    copySetup: () => actions.copySetup(),
    removeSetup: () => actions.removeSetup(),
    earlier: () => moveSetup(-1),
    later: () => moveSetup(1),
    length: () =>
      actions.runLoud({
        type: 'patchScene',
        part: 'display',
        fields: { length: units.length === 'metres' ? 'feet' : 'metres' },
      }),
    illuminance: () =>
      actions.runLoud({
        type: 'patchScene',
        part: 'display',
        fields: { illuminance: units.illuminance === 'lux' ? 'footcandles' : 'lux' },
      }),
  };
  return (
    <MenuTrigger>
      <Button className="button square" aria-label="More">
        <Glyph name="more" />
      </Button>
      <Popover className="popover">
        <div className="menu-heading">{saved}</div>
        <Menu className="menu" aria-label="More" onAction={(key) => act[String(key)]?.()}>
          {isNarrow && <MenuItem id="coverage">Coverage</MenuItem>}
          {isNarrow && <MenuItem id="lessons">Lessons</MenuItem>}
          {isNarrow && <MenuItem id="open">Open</MenuItem>}
          {isNarrow && <MenuItem id="theme">Theme: {THEME_NAMES[nextTheme].toLowerCase()}</MenuItem>}
          <MenuItem id="makeSun">Make a sun here</MenuItem>
          <MenuItem id="new">New scene</MenuItem>
          <MenuItem id="demo">Open the demo scene</MenuItem>
          <MenuItem id="backdrop">Open the harbour backdrop</MenuItem>
          <MenuItem id="hall">Open the drill hall</MenuItem>
          {hasBefore && <MenuItem id="before">Back to the scene before</MenuItem>}
          <MenuItem id="names">Name scene and setup</MenuItem>
          <Separator />
          <MenuItem id="copySetup">Copy this setup</MenuItem>
          {setupCount > 1 && <MenuItem id="compare">What differs between setups</MenuItem>}
          {place > 0 && <MenuItem id="earlier">Put this setup one place earlier</MenuItem>}
          {place < setupCount - 1 && <MenuItem id="later">Put this setup one place later</MenuItem>}
          {setupCount > 1 && <MenuItem id="removeSetup">Remove this setup</MenuItem>}
          <Separator />
          <MenuItem id="camera">Camera basis</MenuItem>
          <MenuItem id="illuminance">{units.illuminance === 'lux' ? 'Show footcandles' : 'Show lux'}</MenuItem>
          <MenuItem id="length">{units.length === 'metres' ? 'Show feet and inches' : 'Show metres'}</MenuItem>
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}

/** Names of the scene and of the setup that is shown. */
export function NamesCard() {
  const { actions } = useApp();
  const scene = useDocument((state) => state.history.present);
  const setupId = useSession((state) => state.setupId);
  const setup = scene.setups.find(({ id }) => id === setupId);
  return (
    <div className="fields">
      <WordsField
        label="Scene"
        value={scene.name}
        onCommit={(name) => actions.runLoud({ type: 'patchScene', part: 'scene', fields: { name } })}
      />
      <WordsField
        label="Production"
        value={scene.production ?? ''}
        onCommit={(production) =>
          actions.runLoud(
            production === ''
              ? { type: 'patchScene', part: 'scene', fields: {}, clear: ['production'] }
              : { type: 'patchScene', part: 'scene', fields: { production } },
          )
        }
      />
      {setup && (
        <WordsField
          label="Setup"
          value={setup.name}
          onCommit={(name) => actions.runLoud({ type: 'patchSetup', setupId, fields: { name } })}
        />
      )}
    </div>
  );
}

/** Opens a page in place of the drawings, and stays pressed while it stands there. */
function PageButton({ page, name }: { readonly page: 'coverage' | 'lessons'; readonly name: string }) {
  const { session } = useApp();
  const isOpen = useSession((state) => state.page === page);
  return (
    <ToggleButton
      className="button"
      isSelected={isOpen}
      onChange={(opens) => session.setState({ page: opens ? page : 'sheets' })}
    >
      {name}
    </ToggleButton>
  );
}

export function TopBar(props: BarProps) {
  const { actions } = useApp();
  const scene = useDocument((state) => state.history.present);
  const undoWords = useDocument((state) => undoLabel(state.history));
  const redoWords = useDocument((state) => redoLabel(state.history));
  const saved = useSavedWords();
  const isNarrow = useIsNarrow();
  const isRoomy = useMedia('(width >= 1280px)');
  return (
    <header className="top">
      <div className="mark">
        <ProductMark />
        <span className="word">Farsun</span>
      </div>
      <h1 className="scene-name">
        {scene.production !== undefined && <b>{scene.production}</b>}
        {scene.name}
      </h1>
      <SetupTabs />
      <span className="saved wide-only" role="status" aria-label="Saved state">
        {saved}
      </span>
      <CameraChip />
      <UnitsMenu />
      <Button
        className="button square"
        aria-label={undoWords === null ? 'Undo' : `Undo: ${undoWords}`}
        isDisabled={undoWords === null}
        onPress={() => actions.undo()}
      >
        <Glyph name="undo" />
      </Button>
      <Button
        className="button square"
        aria-label={redoWords === null ? 'Redo' : `Redo: ${redoWords}`}
        isDisabled={redoWords === null}
        onPress={() => actions.redo()}
      >
        <Glyph name="redo" />
      </Button>
      {!isNarrow && <PageButton page="coverage" name="Coverage" />}
      {!isNarrow && <PageButton page="lessons" name="Lessons" />}
      {isRoomy && (
        <Button className="button" aria-label="New scene" onPress={props.onNew}>
          New
        </Button>
      )}
      {!isNarrow && (
        <Button className="button" onPress={() => actions.pickFile()}>
          Open
        </Button>
      )}
      <Button className="button main" onPress={() => actions.keepCopy()}>
        Keep a copy
      </Button>
      {!isNarrow && <ThemeMenu />}
      <SceneMenu {...props} />
    </header>
  );
}
