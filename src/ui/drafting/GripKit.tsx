import { Button } from 'react-aria-components';
import { GRIP_CLASSES, type GripClass } from '../../scene/kit/gripClasses';
import { nameMatches } from '../../scene/kit/own';
import { useApp } from '../app';
import { HelperKit } from '../grip/GripButtons';
import { takeToPlan } from './drafting';
import { putGrip } from './putting';

/** Grip by its trade sizes, found by the same words as the lamps. */
export function GripKit({ search, onClose }: { readonly search: string; readonly onClose: () => void }) {
  const app = useApp();
  const found = GRIP_CLASSES.filter(({ name }) => nameMatches(name, search));
  const place = (piece: GripClass): void => {
    putGrip(app, piece, null);
    onClose();
  };
  return (
    <>
      <HelperKit search={search} onClose={onClose} />
      <h3>Grip</h3>
      <ul aria-label="Grip">
        {found.map((piece) => (
          <li key={piece.id}>
            <span>
              <strong>{piece.name}</strong>
            </span>
            <span className="kit-ways">
              <Button
                className="button"
                aria-label={`Put ${piece.name} on the plan`}
                onPress={() => {
                  takeToPlan(app, { kind: 'grip', piece });
                  onClose();
                }}
              >
                On the plan
              </Button>
              <Button className="button" aria-label={`Place ${piece.name}`} onPress={() => place(piece)}>
                Place
              </Button>
            </span>
          </li>
        ))}
      </ul>
      {found.length === 0 && <p className="quiet">No grip by these words.</p>}
    </>
  );
}
