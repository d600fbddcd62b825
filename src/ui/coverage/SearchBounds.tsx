import { Button } from 'react-aria-components';
import type { SceneDocument } from '../../scene/schema';
import type { EvenBounds } from '../../sim/coverage/evenOut';
import { lengthKind } from '../fields/kinds';
import { QuantityField } from '../fields/QuantityField';
import { unitsOf } from '../words/format';

type Spanned = 'throwM' | 'spacingM' | 'heightM';
const SPANS: readonly {
  readonly key: Spanned;
  readonly least: string;
  readonly most: string;
  readonly floorM: number;
}[] = [
  { key: 'throwM', least: 'Throw from', most: 'Throw to', floorM: 0.2 },
  { key: 'spacingM', least: 'Spacing from', most: 'Spacing to', floorM: 0 },
  { key: 'heightM', least: 'Height from', most: 'Height to', floorM: -100 },
];

interface Props {
  readonly bounds: EvenBounds;
  readonly scene: SceneDocument;
  readonly onChange: (change: Partial<EvenBounds>) => void;
  /** Null while the bounds are the usual ones. */
  readonly onReset: (() => void) | null;
}

/** Within what the layouts are searched; heights are over the middle of the area. */
export function SearchBounds({ bounds, scene, onChange, onReset }: Props) {
  const length = lengthKind(unitsOf(scene));
  const change = (key: Spanned, floorM: number, span: readonly [number, number]): string | null => {
    if (span[0] > span[1]) return 'The first figure is the smaller one.';
    if (span[0] < floorM || span[1] > 100) return `Between ${floorM} and 100 m.`;
    onChange({ [key]: span });
    return null;
  };
  return (
    <details className="search-bounds">
      <summary>Search within</summary>
      <div className="fields four">
        {SPANS.flatMap(({ key, least, most, floorM }) => [
          <QuantityField
            key={least}
            label={least}
            value={bounds[key][0]}
            kind={length}
            onCommit={(value) => change(key, floorM, [value, bounds[key][1]])}
          />,
          <QuantityField
            key={most}
            label={most}
            value={bounds[key][1]}
            kind={length}
            onCommit={(value) => change(key, floorM, [bounds[key][0], value])}
          />,
        ])}
        <Button className="button" isDisabled={onReset === null} onPress={() => onReset?.()}>
          Back to the usual
        </Button>
      </div>
      <p className="hint">Spacing is between the outermost lamps of a row, height over the middle of the area.</p>
    </details>
  );
}
