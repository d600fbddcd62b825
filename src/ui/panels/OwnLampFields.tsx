import { useMemo } from 'react';
import type { Lamp } from '../../scene/schema';
import { useApp, useDocument } from '../app';
import type { LampEntry } from '../kitCommands';
import type { Units } from '../words/format';
import { EmitterFields } from './selected/EmitterFields';
import { ColourFields, DistributionFields, OutputFields } from './selected/LightFields';
import type { Edits } from './selected/useEdits';
import { WebFields } from './selected/WebFields';

/** A lamp's own place plays no part in its light: the fields only want one to stand on. */
const NOWHERE: Lamp['pose'] = { positionM: [0, 0, 0], aim: { panDeg: 0, tiltDeg: 0 } };

function useEntryEdits(id: string, light: LampEntry['lamp']): Edits {
  const { actions } = useApp();
  return useMemo(() => {
    const at = { kind: 'kitEntry', id } as const;
    const merged = (fields: object, clear: readonly string[] = []) => {
      const kept = Object.entries(light).filter(([key]) => !clear.includes(key));
      const lamp = { ...Object.fromEntries(kept), ...fields } as LampEntry['lamp'];
      return { type: 'patch', at, fields: { lamp, typical: (lamp.basis ?? 'typical') === 'typical' } } as const;
    };
    const refuse = (): string => 'A lamp of the kit stands nowhere.';
    return {
      patch: (fields, clear) => actions.run(merged(fields, clear)),
      patchLoud: (fields, clear) => actions.runLoud(merged(fields, clear)),
      draftPatch: () => undefined, // nothing is drawn of the kit while a handle is held
      move: refuse,
      aim: refuse,
    };
  }, [actions, id, light]);
}

interface Props {
  readonly id: string;
  readonly entry: LampEntry;
  readonly units: Units;
}

/** The light of an own lamp, edited without a lamp in the scene: the same fields as those of one that stands there. */
export function OwnLampFields({ id, entry, units }: Props) {
  const { actions } = useApp();
  const webs = useDocument((state) => state.history.present.webs);
  const edits = useEntryEdits(id, entry.lamp);
  const lamp: Lamp = { type: 'lamp', name: entry.name, pose: NOWHERE, ...entry.lamp };
  const onFile = (): void => actions.pickKitFile(id);
  return (
    <details className="kit-sheet">
      <summary>
        Light of this lamp<span className="hidden-word">: {entry.name}</span>
      </summary>
      <div className="fields">
        <OutputFields lamp={lamp} units={units} edits={edits} />
        <DistributionFields lamp={lamp} units={units} edits={edits} onFile={onFile} />
        <WebFields lamp={lamp} webs={webs} onFile={onFile} />
        <EmitterFields lamp={lamp} units={units} edits={edits} />
        <ColourFields colour={lamp.colour} edits={edits} />
      </div>
    </details>
  );
}
