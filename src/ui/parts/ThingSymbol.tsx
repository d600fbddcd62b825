import type { ObjectRef } from '../../render/contract';
import {
  CAMERA_SYMBOL,
  LAMP_SYMBOLS,
  lampSymbolKind,
  MARK_SYMBOL,
  METER_DOME_SYMBOL,
  METER_FLAT_SYMBOL,
  SUN_SYMBOL,
  type PlanSymbol,
} from '../../render/symbols';
import { flattenSvgPath } from '../../render/svgPath';
import type { Modifier, SceneDocument } from '../../scene/schema';
import { modifierOf, sourceOf } from '../tools/things';

type Part = PlanSymbol[number];
const line = (role: Part['role'], data: string): Part => ({ role, paths: flattenSvgPath(data), filled: false });
const fill = (role: Part['role'], data: string): Part => ({ role, paths: flattenSvgPath(data), filled: true });

const WINDOW: PlanSymbol = [line('wall', 'M2 7v10M22 7v10M2 10.5h20M2 13.5h20M12 10.5v3')];
const PICTURE: PlanSymbol = [line('ink3', 'M3 5h18v14H3zM3 15h6v4M9 19v-4M14 5v6h7')];
const DIMENSION: PlanSymbol = [line('ink2', 'M3 12h18M4 7v10M20 7v10M2 14l4-4M18 14l4-4')];
const NET_THREADS = 'M4 14.5l4-5M9 14.5l4-5M14 14.5l4-5';
const NET_CROSSED = 'M4 9.5l4 5M9 9.5l4 5M14 9.5l4 5';
const FLAG: PlanSymbol = [fill('grip', 'M2 10h18v4H2z'), line('grip', 'M20 12h3')];
const SINGLE_NET: PlanSymbol = [line('netSingle', 'M20 12h3M20 9v6H2V9'), line('grip', NET_THREADS)];
const RING = 'M4 12a8 8 0 1 0 16 0a8 8 0 1 0-16 0';
/** From here on a net or a scrim is drawn as a double. */
const DOUBLE_STOPS = 0.75;

/** Grip by material; drawn here only for lists, since the drawings show grip at its true size. */
function gripSymbol({ material, shape }: Modifier): PlanSymbol {
  switch (material.kind) {
    case 'opaque':
      return shape.kind === 'pattern'
        ? [line('grip', 'M2 8h20v8H2z'), fill('grip', 'M4 12q2-3.5 4-1.5T9.5 14T5 14z')]
        : FLAG;
    case 'net': {
      const isDouble = material.stops >= DOUBLE_STOPS;
      const rim = isDouble ? 'netDouble' : 'netSingle';
      return [line(rim, 'M20 12h3M20 9v6H2V9'), line('grip', isDouble ? NET_THREADS + NET_CROSSED : NET_THREADS)];
    }
    case 'wireScrim': {
      const isDouble = material.stops >= DOUBLE_STOPS;
      return [
        line(isDouble ? 'netDouble' : 'netSingle', RING),
        line('grip', isDouble ? 'M8 6v12M12 5v14M16 6v12M6 8h12M5 12h14M6 16h12' : 'M8 6v12M12 5v14M16 6v12'),
      ];
    }
    case 'diffusion':
    case 'gel':
      return [line('grip', 'M2 9.5h20v5H2zM2 12q1.25-2.4 2.5 0t2.5 0t2.5 0t2.5 0t2.5 0t2.5 0t2.5 0t2.5 0')];
    case 'bounce':
      return [line('grip', 'M2 15h20v3H2zM12 15V6M8.5 15L4.5 8M15.5 15l4-7')];
    case 'mirror':
      return [line('grip', 'M2 10h20M5 10l-3 5M10 10l-3 5M15 10l-3 5M20 10l-3 5'), fill('grip', 'M2 9.2h20v1.6H2z')];
  }
}

function symbolOf(document: SceneDocument, setupId: string, ref: ObjectRef): PlanSymbol | null {
  switch (ref.kind) {
    case 'source': {
      const source = sourceOf(document, setupId, ref.id);
      if (!source) return null;
      return source.type === 'sun' ? SUN_SYMBOL : LAMP_SYMBOLS[lampSymbolKind(source)];
    }
    case 'modifier': {
      const modifier = modifierOf(document, setupId, ref.id);
      return modifier ? gripSymbol(modifier) : null;
    }
    case 'meter':
      return document.meters[ref.id]?.receptor === 'dome' ? METER_DOME_SYMBOL : METER_FLAT_SYMBOL;
    case 'mark':
      return MARK_SYMBOL;
    case 'camera':
      return CAMERA_SYMBOL;
    case 'opening':
      return WINDOW;
    case 'picture':
      return PICTURE;
    case 'dimension':
      return DIMENSION;
    case 'surface':
      return null;
  }
}

const inkOf = (role: string): string => `var(--${role.replace(/([a-z])([A-Z0-9])/g, '$1-$2').toLowerCase()})`;

function SymbolParts({ symbol }: { readonly symbol: PlanSymbol }) {
  return symbol.map((part, index) => {
    const data = part.paths.map((path) => pathData(path.points, path.closed)).join('');
    const ink = inkOf(part.role);
    if (part.filled) return <path key={index} d={data} fill={ink} />;
    const width = part.widthPx ?? 1.5;
    return (
      <path
        key={index}
        d={data}
        fill="none"
        stroke={ink}
        strokeWidth={width}
        strokeLinejoin="round"
        strokeLinecap="round"
      />
    );
  });
}

interface Props {
  readonly document: SceneDocument;
  readonly setupId: string;
  readonly thing: ObjectRef;
}
/** The same symbol that the drawings use, for lists. A wall is a plain bar. */
export function ThingSymbol({ document, setupId, thing }: Props) {
  const symbol = symbolOf(document, setupId, thing);
  return (
    <svg viewBox="0 0 24 24" aria-hidden="true">
      {symbol === null && <path d="M2 9h20v6H2z" fill="none" stroke="var(--wall)" strokeWidth="1.75" />}
      {symbol && <SymbolParts symbol={symbol} />}
    </svg>
  );
}

const KIND_SYMBOLS = { net: SINGLE_NET, flag: FLAG, meter: METER_FLAT_SYMBOL } as const;
/** The symbol of a kind of thing, for buttons that place one. */
export function KindSymbol({
  kind,
  symbol,
}: {
  readonly kind?: keyof typeof KIND_SYMBOLS;
  readonly symbol?: PlanSymbol;
}) {
  return (
    <svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
      <SymbolParts symbol={symbol ?? (kind ? KIND_SYMBOLS[kind] : [])} />
    </svg>
  );
}

function pathData(points: readonly number[], closed: boolean): string {
  let data = '';
  for (let index = 0; index + 1 < points.length; index += 2) {
    data += `${index === 0 ? 'M' : 'L'}${points[index]?.toFixed(2)} ${points[index + 1]?.toFixed(2)}`;
  }
  return closed ? `${data}z` : data;
}
