import { useEffect, useRef, useState } from 'react';
import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import type { PlaceRequest } from '../../sim/place/placeRequest';
import type { PlaceJob } from '../../sim/worker/protocol';
import { useApp, useDocument, useSession } from '../app';
import { useJob } from '../coverage/useJob';
import { SunAnswer } from './SunAnswer';
import { SunForm } from './SunForm';
import { firstWanted, lampsOf, requestOf, windowsOf, type SunWanted } from './sunWanted';

/** Why there is nothing to look for yet, or null. */
function missingWords(hasWindow: boolean, hasLamp: boolean, kitIds: readonly string[]): string | null {
  if (!hasWindow) return 'The scene has no window: draw one in a wall first.';
  if (!hasLamp) return 'The kit has no lamp: keep one in it first.';
  return kitIds.length === 0 ? 'Choose a lamp at hand.' : null;
}

/** The other way round: which lamp, where, how high, with which nets, for a sun that is wanted. */
export function MakeSunDialog() {
  const { actions, session } = useApp();
  const isOpen = useSession((state) => state.isMakingSun);
  const setupId = useSession((state) => state.setupId);
  const surfaceId = useSession((state) => state.surfaceId);
  const scene = useDocument((state) => state.shown);
  const job = useJob<PlaceJob>('place');
  const [typed, setTyped] = useState<SunWanted | null>(null);
  const [asked, setAsked] = useState<{ request: PlaceRequest; wanted: SunWanted } | null>(null);
  const wanted = typed ?? firstWanted(scene, surfaceId);
  const close = (): void => session.setState({ isMakingSun: false });
  const missing = missingWords(windowsOf(scene).length > 0, lampsOf(scene).length > 0, wanted.kitIds);
  const find = (): void => {
    const request = requestOf(scene, setupId, wanted);
    setTyped(wanted);
    setAsked({ request, wanted });
    job.start({ kind: 'place', request });
  };
  const percent = Math.round((job.fraction ?? 0) * 100);
  const answer = job.fraction === null ? job.answer : null;
  const isOld = answer?.document !== scene || asked?.wanted !== wanted;
  const placement = isOld ? null : (answer?.result.placement ?? null);
  const found = useRef<HTMLElement>(null);
  // On a small screen the answer lies under the form.
  useEffect(() => {
    if (answer) found.current?.scrollIntoView({ block: 'nearest' });
  }, [answer]);
  const tryIt = (): void => {
    if (asked && placement && actions.tryPlacement(asked.request, placement, answer!.result.sentence)) close();
  };
  return (
    <ModalOverlay className="veil" isOpen={isOpen} isDismissable onOpenChange={(open) => !open && close()}>
      <Modal>
        <Dialog className="dialog make-sun">
          <Heading slot="title" level={2}>
            Make a sun here
          </Heading>
          <div className="sun-columns">
            <SunForm wanted={wanted} onChange={(change) => setTyped({ ...wanted, ...change })} />
            <section aria-label="What was found" aria-live="polite" ref={found}>
              {job.fraction !== null && (
                <div className="search-state">
                  <span>Simulating places, {percent}&thinsp;%.</span>
                  <progress max={100} value={percent} aria-label="Simulating places" />
                  <Button className="button" onPress={job.stop}>
                    Stop
                  </Button>
                </div>
              )}
              {job.fault !== null && <p className="fault-words">Not found: {job.fault}.</p>}
              {answer && asked && <SunAnswer answer={answer.result} request={asked.request} isOld={isOld} />}
              {job.fraction === null && !answer && job.fault === null && (
                <p className="small">
                  Places, lamps and nets of the kit are simulated and judged. What keeps to the space, the height and
                  the level is answered, and what of it cannot be had.
                </p>
              )}
            </section>
          </div>
          <div className="buttons">
            {missing !== null && <span className="small">{missing}</span>}
            <Button className="button" onPress={close}>
              Close
            </Button>
            <Button
              className={placement ? 'button' : 'button main'}
              isDisabled={missing !== null || job.fraction !== null}
              onPress={find}
            >
              {answer ? 'Look again' : 'Find a place'}
            </Button>
            {placement && (
              <Button className="button main" onPress={tryIt}>
                Try it
              </Button>
            )}
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
