import type { ReactNode } from 'react';
import { Button, ToggleButton, ToggleButtonGroup } from 'react-aria-components';
import type { SheetKind } from '../../render/contract';
import { LAMP_SYMBOLS } from '../../render/symbols';
import { useApp, useSession } from '../app';
import type { NewKind } from '../actions';
import { startDraw } from '../drafting/drafting';
import { Glyph } from '../parts/Glyphs';
import { KindSymbol } from '../parts/ThingSymbol';

const TOOLS = [
  { id: 'select', name: 'Select' },
  { id: 'pan', name: 'Pan' },
  { id: 'draw', name: 'Draw' },
  { id: 'measure', name: 'Measure' },
] as const;
const PLACED: readonly { readonly kind: NewKind; readonly name: string; readonly symbol: ReactNode }[] = [
  { kind: 'lamp', name: 'Lamp', symbol: <KindSymbol symbol={LAMP_SYMBOLS.lensedSpot} /> },
  { kind: 'net', name: 'Net', symbol: <KindSymbol kind="net" /> },
  { kind: 'flag', name: 'Flag', symbol: <KindSymbol kind="flag" /> },
  { kind: 'meter', name: 'Meter', symbol: <KindSymbol kind="meter" /> },
];

const focusDrawing = (kind: SheetKind): void => document.getElementById(`drawing-${kind}`)?.focus();

/** The pointer's tools, and things to place in front of the wall that is shown. */
export function PlaceRail({ onKit }: { readonly onKit: () => void }) {
  const app = useApp();
  const { actions, session } = app;
  const tool = useSession((state) =>
    state.tool === 'draw' && state.drawing.kind === 'measure' ? 'measure' : state.tool,
  );
  const take = (next: (typeof TOOLS)[number]['id']): void => {
    if (next === 'measure') startDraw(app, 'measure');
    else if (next === 'draw') startDraw(app, 'walls');
    else session.setState({ tool: next });
  };
  return (
    <nav className="rail" aria-label="Place">
      <ToggleButtonGroup
        aria-label="Pointer"
        orientation="vertical"
        selectionMode="single"
        disallowEmptySelection
        selectedKeys={[tool]}
        onSelectionChange={(keys) => {
          const [key] = keys;
          if (key !== undefined) take(key as (typeof TOOLS)[number]['id']);
        }}
      >
        {TOOLS.map(({ id, name }) => (
          <ToggleButton key={id} id={id} className="tool">
            <Glyph name={id} size={24} />
            {name}
          </ToggleButton>
        ))}
      </ToggleButtonGroup>
      <hr />
      {PLACED.map(({ kind, name, symbol }) => (
        <Button
          key={kind}
          className="tool"
          aria-label={`Place a ${name.toLowerCase()}`}
          onPress={({ pointerType }) => {
            actions.place(kind);
            // Who placed it by key goes on by key: arrow keys nudge it there.
            if (pointerType === 'keyboard' || pointerType === 'virtual') focusDrawing(session.getState().activeSheet);
          }}
        >
          {symbol}
          {name}
        </Button>
      ))}
      <Button className="tool" aria-label="Open the kit" onPress={onKit}>
        <KindSymbol symbol={LAMP_SYMBOLS.openFace} />
        Kit
      </Button>
    </nav>
  );
}
