import { useEffect, useState, type ReactNode } from 'react';
import { Button } from 'react-aria-components';
import type { SheetKind } from '../render/contract';
import { AppContext, useApp, useResults, useSession, type App } from './app';
import { CoveragePage } from './coverage/CoveragePage';
import { ArrangeMenu } from './drafting/ArrangeMenu';
import { StartDialog } from './drafting/StartDialog';
import { GripCard } from './grip/GripCard';
import { isInText, keyAction } from './keyboard';
import { MakeSunDialog } from './makeSun/MakeSunDialog';
import { CameraFields } from './panels/CameraFields';
import { CautionList } from './panels/CautionList';
import { CompareDialog } from './setups/CompareDialog';
import { KitDialog } from './panels/KitDialog';
import { MendsPanel } from './panels/MendsPanel';
import { Notices } from './panels/Notices';
import { ObjectList } from './panels/ObjectList';
import { PlaceRail } from './panels/PlaceRail';
import { ReadingStrip } from './panels/ReadingStrip';
import { SelectedPanel } from './panels/SelectedPanel';
import { SETUP_PANEL_ID, setupTabId } from './panels/SetupTabs';
import { NamesCard, TopBar } from './panels/TopBar';
import { StoryFields } from './panels/StoryFields';
import { VerdictPanel, VerdictTop } from './panels/VerdictPanel';
import { Guard } from './parts/Guard';
import { bringInPicture, isPictureName } from './planPicture/bringIn';
import { useMedia } from './parts/useMedia';
import { SheetFrame, type SheetPlace } from './sheets/SheetFrame';
import { ThrowSheet } from './sheets/ThrowSheet';
import { LessonsPage } from './teach/LessonsPage';
import type { PanelHeight } from './stores/session';
import { VERDICT_WORDS } from './words/figures';
import { ClosableDialog } from './parts/ClosableDialog';

const SHEETS: readonly SheetKind[] = ['plan', 'elevation', 'section'];

/** The front sheet's place, then the two of the strip in the order plan, elevation, section. */
function placeOf(kind: SheetKind, front: SheetKind): SheetPlace {
  if (kind === front) return 'front';
  return SHEETS.filter((other) => other !== front)[0] === kind ? 'left' : 'right';
}

const NEXT_HEIGHT: Readonly<Record<PanelHeight, PanelHeight>> = { low: 'middle', middle: 'high', high: 'low' };
const HEIGHT_WORDS: Readonly<Record<PanelHeight, string>> = {
  low: 'Pull the panel up',
  middle: 'Pull the panel up further',
  high: 'Push the panel down',
};

/** Under the verdict: what is selected first, else the figures. From 2560 px on, a second column. */
function PanelCards() {
  const hasSelection = useSession((state) => state.selection !== null);
  const isWide = useMedia('(width >= 2560px)');
  const figures = <VerdictPanel key="figures" />;
  const mends = <MendsPanel key="mends" />;
  const selected = <SelectedPanel key="selected" />;
  const story = hasSelection ? null : <StoryFields key="story" />;
  const cautions = <CautionList key="cautions" />;
  const list = <ObjectList key="list" />;
  const grip = <GripCard key="grip" />;
  const column = (...cards: ReactNode[]) => <div className="panel-cards">{cards}</div>;
  if (isWide) {
    return (
      <div className="panel-columns">
        {column(figures, mends, list)}
        {column(grip, selected, cautions, story)}
      </div>
    );
  }
  return hasSelection
    ? column(grip, selected, figures, mends, cautions, list)
    : column(grip, figures, mends, selected, cautions, story, list);
}

function Panel() {
  const { session } = useApp();
  const height = useSession((state) => state.panelHeight);
  return (
    <aside className="panel" data-open={height} aria-label="What to look at next">
      <Button
        className="pull"
        aria-label={HEIGHT_WORDS[height]}
        onPress={() => session.setState({ panelHeight: NEXT_HEIGHT[height] })}
      />
      <Guard what="The panel">
        <VerdictTop />
        <PanelCards />
      </Guard>
    </aside>
  );
}

/** Says a new verdict aloud once it has settled; the table itself is quiet. */
function VerdictVoice() {
  const words = useResults((state) => {
    const check = state.checksRevision === state.revision ? state.checks[0] : undefined;
    return check ? `${VERDICT_WORDS[check.verdict]}. ${check.sentence}` : '';
  });
  return (
    <div className="hidden-word" role="status" aria-label="Verdict">
      {words}
    </div>
  );
}

type OpenDialog = 'names' | 'camera' | null;
function PageDialog({ open, onClose }: { readonly open: OpenDialog; readonly onClose: () => void }) {
  return (
    <ClosableDialog
      title={open === 'camera' ? 'Camera basis' : 'Name scene and setup'}
      isOpen={open !== null}
      onClose={onClose}
    >
      {open === 'camera' ? <CameraFields /> : <NamesCard />}
    </ClosableDialog>
  );
}

/** Keys and dropped files, wherever they land on the page. */
function usePageEvents(app: App, onDropping: (isOver: boolean) => void): void {
  useEffect(() => {
    const { actions, session } = app;
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.defaultPrevented) return;
      const action = keyAction(event, isInText(event.target));
      const { selection } = session.getState();
      if (action === 'undo') actions.undo();
      else if (action === 'redo') actions.redo();
      else if (action === 'letGo') actions.select(null);
      else if (action === 'remove' && selection && selection.kind !== 'camera') actions.remove(selection);
      else return;
      event.preventDefault();
    };
    const isFile = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') ?? false;
    const onDragOver = (event: DragEvent): void => {
      if (!isFile(event)) return;
      event.preventDefault();
      onDropping(true);
    };
    const onDragLeave = (event: DragEvent): void => {
      if (event.relatedTarget === null) onDropping(false);
    };
    const onDrop = (event: DragEvent): void => {
      if (!isFile(event)) return;
      onDropping(false);
      if (event.defaultPrevented) return; // a drawing has taken it
      event.preventDefault();
      const file = event.dataTransfer?.files[0];
      if (file) void (isPictureName(file.name) ? bringInPicture(app, file) : actions.openFile(file));
    };
    window.addEventListener('keydown', onKeyDown);
    window.addEventListener('dragover', onDragOver);
    window.addEventListener('dragleave', onDragLeave);
    window.addEventListener('drop', onDrop);
    return () => {
      window.removeEventListener('keydown', onKeyDown);
      window.removeEventListener('dragover', onDragOver);
      window.removeEventListener('dragleave', onDragLeave);
      window.removeEventListener('drop', onDrop);
    };
  }, [app, onDropping]);
}

/** The first stop of the Tab key: past the bar and the tools, straight to where the work is. */
function SkipLinks() {
  const { session } = useApp();
  const focus = (selector: string): void => document.querySelector<HTMLElement>(selector)?.focus();
  return (
    <nav className="skips" aria-label="Go to">
      <Button className="button" onPress={() => focus(`#drawing-${session.getState().frontSheet}`)}>
        Go to the drawing
      </Button>
      <Button className="button" onPress={() => focus('.things')}>
        Go to the list of things
      </Button>
    </nav>
  );
}

/** The page's frame says when map and verdict have settled; what stands in it is not drawn anew for that. */
function PageFrame({ children }: { readonly children: ReactNode }) {
  const isSettled = useResults((state) => state.status.kind === 'current' && state.checksRevision === state.revision);
  return (
    <div className="page" data-settled={isSettled ? 'yes' : 'no'}>
      {children}
    </div>
  );
}

function Page() {
  const app = useApp();
  const setupId = useSession((state) => state.setupId);
  const front = useSession((state) => state.frontSheet);
  const shownPage = useSession((state) => state.page);
  const isWide = useMedia('(width >= 1900px)');
  const isThrowInFront = useSession((state) => state.isThrowInFront) && !isWide;
  const [dialog, setDialog] = useState<OpenDialog>(null);
  const [isKitOpen, setKitOpen] = useState(false);
  const [isStartOpen, setStartOpen] = useState(false);
  const [isComparing, setComparing] = useState(false);
  const [isDropping, setDropping] = useState(false);
  usePageEvents(app, setDropping);
  return (
    <div className="app">
      <PageFrame>
        <SkipLinks />
        <TopBar
          onNew={() => setStartOpen(true)}
          onRename={() => setDialog('names')}
          onCamera={() => setDialog('camera')}
          onCompare={() => setComparing(true)}
        />
        <PlaceRail onKit={() => setKitOpen(true)} />
        <main className="work">
          <div
            className="sheets"
            data-page={shownPage}
            id={SETUP_PANEL_ID}
            role="tabpanel"
            aria-labelledby={setupTabId(setupId)}
          >
            {shownPage === 'coverage' && <CoveragePage />}
            {shownPage === 'lessons' && <LessonsPage />}
            {shownPage === 'sheets' &&
              SHEETS.filter((kind) => !isThrowInFront || kind !== front).map((kind) => (
                <SheetFrame key={kind} kind={kind} place={placeOf(kind, front)} />
              ))}
            {shownPage === 'sheets' && (isWide || isThrowInFront) && <ThrowSheet isInFront={isThrowInFront} />}
          </div>
        </main>
        <ReadingStrip />
        <Panel />
      </PageFrame>
      <VerdictVoice />
      <Notices />
      <PageDialog open={dialog} onClose={() => setDialog(null)} />
      <ArrangeMenu />
      <StartDialog isOpen={isStartOpen} onClose={() => setStartOpen(false)} />
      <KitDialog isOpen={isKitOpen} onClose={() => setKitOpen(false)} />
      <MakeSunDialog />
      <CompareDialog isOpen={isComparing} onClose={() => setComparing(false)} />
      {isDropping && (
        <div className="dropping">
          Drop a scene to open it, a photometric file on a lamp, or a picture of a plan on the plan
        </div>
      )}
    </div>
  );
}

export function Farsun({ app }: { readonly app: App }) {
  return (
    <AppContext.Provider value={app}>
      <Guard what="The page">
        <Page />
      </Guard>
    </AppContext.Provider>
  );
}
