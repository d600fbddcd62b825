import { Button } from 'react-aria-components';
import { useApp, useDocument, useResults, useSession } from '../app';
import { Fractions } from '../parts/Fractions';
import { unitsOf } from '../words/format';
import { differenceFigure, readingFigures } from '../words/reading';

/** What a meter would say at the point under the pointer, and the difference from a pinned point. */
export function ReadingStrip() {
  const { session } = useApp();
  const document = useDocument((state) => state.shown);
  const setupId = useSession((state) => state.setupId);
  const place = useSession((state) => state.place);
  const pin = useSession((state) => state.pin);
  const reading = useResults((state) => state.reading);
  const pinned = useResults((state) => state.pinned);
  const shown = reading ?? pinned;
  const figures = shown ? readingFigures(document, setupId, shown, unitsOf(document)) : [];
  if (reading && pinned) figures.splice(2, 0, differenceFigure(reading, pinned));
  return (
    <section className="reading" aria-label="Reading">
      {figures.length === 0 ? (
        <p>Point at a lit wall or the floor to read the light there. Pin holds a point to compare with.</p>
      ) : (
        <dl>
          {figures.map((figure) => (
            <div key={figure.key} data-figure={figure.key}>
              <dt>{figure.label}</dt>
              <dd>
                <Fractions text={figure.value} />
              </dd>
            </div>
          ))}
        </dl>
      )}
      {place && (
        <Button className="button" onPress={() => session.setState({ pin: pin ? null : place })}>
          {pin ? 'Unpin' : 'Pin'}
        </Button>
      )}
    </section>
  );
}
