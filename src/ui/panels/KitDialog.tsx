import { useState } from 'react';
import { Button, Input, Label, TextField } from 'react-aria-components';
import { KIT_CLASSES } from '../../scene/kit/classes';
import { entryFromLamp, entryFromSheet, nameMatches, type SheetFigures } from '../../scene/kit/own';
import type { Lamp, Output, SceneDocument } from '../../scene/schema';
import { formatIlluminance, formatLength } from '../../scene/units/format';
import { useApp, useDocument, useSession } from '../app';
import { ANGLE, fineLengthKind, illuminanceKind, lengthKind, numberKind } from '../fields/kinds';
import { QuantityField } from '../fields/QuantityField';
import { WordsField } from '../fields/WordsField';
import { GripKit } from '../drafting/GripKit';
import { takeToPlan } from '../drafting/drafting';
import { keepInKit, METERED_LAMP, placeFromKit, type LampEntry } from '../kitCommands';
import { elevationSurfaceId } from '../stores/shownPlaces';
import { notify } from '../stores/session';
import { ifThere, sourceOf } from '../tools/things';
import { basisOf, formatNumber, unitsOf, type Units } from '../words/format';
import { OwnLampFields } from './OwnLampFields';
import { ClosableDialog } from '../parts/ClosableDialog';

const BASIS_WORDS = { typical: 'typical, ± 1 stop', file: 'from a file, ± 10 %', metered: 'metered, ± 15 %' } as const;

function outputWords(output: Output, units: Units): string {
  switch (output.kind) {
    case 'luxAt':
      return `${formatIlluminance(output.illuminanceLx, units.illuminance)} at ${formatLength(output.distanceM, units.length)}`;
    case 'candela':
      return `${formatNumber(output.candela)} cd`;
    case 'lumens':
      return `${formatNumber(output.lumens)} lm`;
    case 'luminance':
      return `${formatNumber(output.luminanceCdM2)} cd/m²`;
    case 'file':
      return output.factor === undefined ? 'as its file says' : `its file times ${formatNumber(output.factor)}`;
    case 'readings':
      return `${output.readings.length} meter reading${output.readings.length === 1 ? '' : 's'}`;
  }
}

interface EntryRowProps {
  readonly entry: LampEntry;
  readonly units: Units;
  readonly onPlace: () => void;
  /** Takes it in hand, to be put down on the plan. */
  readonly onTake: () => void;
}
function EntryRow({ entry, units, onPlace, onTake }: EntryRowProps) {
  const { mainsW } = entry.lamp.power ?? {};
  const figures = [
    outputWords(entry.lamp.output, units),
    BASIS_WORDS[entry.lamp.basis ?? 'typical'],
    ...(mainsW === undefined ? [] : [`${formatNumber(mainsW)} W`]),
  ];
  return (
    <li>
      <span>
        <strong>{entry.name}</strong>
        <small>{figures.join(', ')}</small>
      </span>
      <span className="kit-ways">
        <Button className="button" aria-label={`Put ${entry.name} on the plan`} onPress={onTake}>
          On the plan
        </Button>
        <Button className="button" aria-label={`Place ${entry.name}`} onPress={onPlace}>
          Place
        </Button>
      </span>
    </li>
  );
}

/** An own lamp: its name, its number and its light are edited in place. */
function OwnRow(row: EntryRowProps & { readonly id: string }) {
  const { actions } = useApp();
  const { entry, id } = row;
  const at = { kind: 'kitEntry', id } as const;
  return (
    <>
      <EntryRow {...row} />
      <li className="own">
        <WordsField
          label="Name"
          value={entry.name}
          onCommit={(name) => actions.runLoud({ type: 'patch', at, fields: { name } })}
        />
        <QuantityField
          label="In stock"
          value={entry.count}
          kind={numberKind('', 0)}
          onCommit={(count) => actions.run({ type: 'patch', at, fields: { count: Math.round(count) } })}
        />
        <Button
          className="button"
          aria-label={`Remove ${entry.name} from the kit`}
          onPress={() => actions.runLoud({ type: 'remove', at })}
        >
          Remove
        </Button>
      </li>
      <li className="own">
        <OwnLampFields id={row.id} entry={entry} units={row.units} />
      </li>
    </>
  );
}

const SHEET: SheetFigures = {
  name: 'New lamp',
  illuminanceLx: 1000,
  distanceM: 5,
  beamAngleDeg: 26,
  lensDiameterM: 0.15,
};

function FromSheet({ units, onKeep }: { readonly units: Units; readonly onKeep: (figures: SheetFigures) => void }) {
  const [figures, setFigures] = useState(SHEET);
  const set = (change: Partial<SheetFigures>): null => {
    setFigures({ ...figures, ...change });
    return null;
  };
  const angle = (beamAngleDeg: number): string | null =>
    beamAngleDeg > 0 && beamAngleDeg < 180 ? set({ beamAngleDeg }) : 'Beam angle must be above 0° and below 180°.';
  const size =
    (key: 'distanceM' | 'lensDiameterM') =>
    (metres: number): string | null =>
      metres > 0 ? set({ [key]: metres }) : 'A length above 0 is needed.';
  return (
    <details className="kit-sheet">
      <summary>New lamp from its data sheet</summary>
      <div className="fields">
        <WordsField label="Name" value={figures.name} onCommit={(name) => set({ name })} />
        <QuantityField
          label="Level"
          value={figures.illuminanceLx}
          kind={illuminanceKind(units)}
          onCommit={(illuminanceLx) => set({ illuminanceLx })}
        />
        <QuantityField
          label="At a distance of"
          value={figures.distanceM}
          kind={lengthKind(units)}
          onCommit={size('distanceM')}
        />
        <QuantityField
          label="Beam angle"
          value={figures.beamAngleDeg}
          kind={ANGLE}
          hint="full angle at 50 % of peak; ask which one the sheet means"
          onCommit={angle}
        />
        <QuantityField
          label="Lens diameter"
          value={figures.lensDiameterM}
          kind={fineLengthKind(units)}
          onCommit={size('lensDiameterM')}
        />
      </div>
      <Button className="button" onPress={() => onKeep(figures)}>
        Keep as own lamp
      </Button>
    </details>
  );
}

function useKit(onClose: () => void) {
  const app = useApp();
  const { actions, session, document } = app;
  const say = (line: string): void =>
    notify(session, { kind: 'done', lines: [line], action: { label: 'Undo', run: actions.undo } });
  const present = (): SceneDocument => document.getState().history.present;
  return {
    place(entry: LampEntry, kitId: string | null, symbol?: Lamp['symbol']): void {
      const scene = present();
      const { setupId } = session.getState();
      const surfaceId = elevationSurfaceId(scene, session.getState());
      const { command, lampId, name } = placeFromKit(scene, { setupId, surfaceId }, entry, kitId, symbol);
      const fault = actions.run(command);
      if (fault !== null) return notify(session, { kind: 'caution', lines: [fault] });
      session.setState({ selection: ifThere(present(), setupId, { kind: 'source', id: lampId }) });
      say(`${name} placed: ${entry.name}`);
      onClose();
    },
    take(entry: LampEntry, kitId: string | null, symbol?: Lamp['symbol']): void {
      takeToPlan(app, { kind: 'lamp', entry, kitId, ...(symbol && { symbol }) });
      onClose();
    },
    keep(entry: ReturnType<typeof entryFromSheet>): void {
      const fault = actions.run(keepInKit(present(), entry));
      if (fault !== null) notify(session, { kind: 'caution', lines: [fault] });
      else say(`Kept in the kit: ${entry.name}`);
    },
  };
}

/** The kit: own lamps first, then typical classes, found by their words. */
function Kit({ onClose }: { readonly onClose: () => void }) {
  const [search, setSearch] = useState('');
  const scene = useDocument((state) => state.history.present);
  const chosen = useSession(({ selection, setupId }) =>
    selection?.kind === 'source' ? sourceOf(scene, setupId, selection.id) : undefined,
  );
  const { actions } = useApp();
  const { place, take, keep } = useKit(onClose);
  const units = unitsOf(scene);
  const own = Object.entries(scene.kit ?? {}).filter(
    (found): found is [string, LampEntry] => found[1].lamp !== undefined && nameMatches(found[1].name, search),
  );
  const classes = KIT_CLASSES.filter(({ entry }) => nameMatches(entry.name, search));
  return (
    <div className="kit">
      <TextField className="field wide" value={search} onChange={setSearch}>
        <Label>Search lamps and grip</Label>
        <span className="well">
          <Input className="words" autoComplete="off" />
        </span>
      </TextField>
      <div className="kit-shelves">
        <section>
          <h3>Own lamps</h3>
          {own.length === 0 && (
            <p className="quiet">None by these words. Keep one from a file, from its data sheet, or by your meter.</p>
          )}
          <ul aria-label="Own lamps">
            {own.map(([id, entry]) => (
              <OwnRow
                key={id}
                id={id}
                entry={entry}
                units={units}
                onPlace={() => place(entry, id)}
                onTake={() => take(entry, id)}
              />
            ))}
          </ul>
          <div className="kit-new">
            <Button className="button" onPress={() => actions.pickKitFile(null)}>
              New lamp from a photometric file
            </Button>
            <Button className="button" onPress={() => keep(METERED_LAMP)}>
              New lamp from meter readings
            </Button>
            {chosen?.type === 'lamp' && (
              <Button className="button" onPress={() => keep(entryFromLamp(chosen, chosen.unit ?? chosen.name))}>
                Keep {chosen.name} as own lamp ({BASIS_WORDS[basisOf(chosen)]})
              </Button>
            )}
          </div>
          <FromSheet units={units} onKeep={(figures) => keep(entryFromSheet(figures))} />
        </section>
        <section>
          <h3>Typical classes</h3>
          <p className="quiet">
            Figures of the middle of a class, ± 1 stop. A file, a data sheet or your meter replaces them.
          </p>
          <ul aria-label="Typical classes">
            {classes.map(({ id, entry, symbol }) => (
              <EntryRow
                key={id}
                entry={entry}
                units={units}
                onPlace={() => place(entry, null, symbol)}
                onTake={() => take(entry, null, symbol)}
              />
            ))}
          </ul>
        </section>
        <section>
          <GripKit search={search} onClose={onClose} />
        </section>
      </div>
    </div>
  );
}

export function KitDialog({ isOpen, onClose }: { readonly isOpen: boolean; readonly onClose: () => void }) {
  return (
    <ClosableDialog title="Kit" isOpen={isOpen} onClose={onClose} isWide>
      <Kit onClose={onClose} />
    </ClosableDialog>
  );
}
