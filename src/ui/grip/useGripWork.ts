/** The open helper's work on the coverage worker: where it starts, what it plans, and its figures before and after. */
import { withSetup } from '../../scene/withSetup';
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { SceneDocument } from '../../scene/schema';
import type { GripFigures } from '../../sim/grip/gripFigures';
import type { GripPlan } from '../../sim/grip/gripPlan';
import type { GripRequest } from '../../sim/grip/gripRequest';
import type { Channel, TaskResult } from '../../sim/worker/protocol';
import type { GripTask } from '../../sim/grip/gripTasks';
import { useApp } from '../app';
import { setupOf } from '../tools/things';
import { without, type GripOpen } from './gripStore';

interface Planned {
  readonly base: SceneDocument;
  readonly request: GripRequest;
  readonly plan: GripPlan;
}
export interface GripWork {
  /** The scene without the helper's pieces. */
  readonly base: SceneDocument;
  readonly request: GripRequest | null;
  readonly change: (request: GripRequest) => void;
  /** The plan of the present request; null while it is being worked out. */
  readonly plan: GripPlan | null;
  readonly before: GripFigures | null;
  /** Figures with the pieces in; null while they are being worked out, or where there is no plan. */
  readonly after: GripFigures | null;
  /** Why there is no form, or what failed. */
  readonly fault: string | null;
  readonly isSearching: boolean;
  readonly findBest: () => void;
}

let revision = 0;
type Run = <T extends GripTask>(channel: Channel, task: T, onDone: (result: TaskResult<T>) => void) => () => void;
/** Runs a job of the worker; what comes back after it was given up is dropped. */
function useRun(onFault: (fault: string) => void): Run {
  const { coverageSolver } = useApp();
  return useCallback(
    (channel, task, onDone) => {
      let isWanted = true;
      revision += 1;
      void coverageSolver.run(channel, revision, task).then((outcome) => {
        if (!isWanted) return;
        if (outcome.status === 'done') onDone(outcome.result);
        if (outcome.status === 'failed') onFault(outcome.fault.message);
      });
      return () => {
        isWanted = false;
        coverageSolver.cancel(channel);
      };
    },
    [coverageSolver, onFault],
  );
}

/** What the figures before hang on, beside the scene. */
const subjectOf = (request: GripRequest | null): string =>
  request === null
    ? ''
    : request.helper === 'flag'
      ? JSON.stringify([request.dark, request.wantedSurfaceId])
      : request.surfaceId;

export function useGripWork(open: GripOpen, present: SceneDocument): GripWork {
  const { helper, setupId, lampId, surfaceId, made } = open;
  const base = useMemo(() => (made ? without(present, made) : present), [present, made]);
  const [request, setRequest] = useState<GripRequest | null>(made?.request ?? null);
  const [planned, setPlanned] = useState<Planned | null>(null);
  const [before, setBefore] = useState<{ base: SceneDocument; subject: string; figures: GripFigures } | null>(null);
  const [after, setAfter] = useState<{ plan: GripPlan; figures: GripFigures } | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const [isSearching, setSearching] = useState(false);
  const run = useRun(setFault);
  const starts = useRef(request === null);

  useEffect(() => {
    if (!starts.current) return undefined;
    const standing = Object.values(made?.pieces ?? {});
    const task = { kind: 'gripFirst', document: base, setupId, helper, lampId, surfaceId, standing } as const;
    return run('gripFirst', task, (first) => {
      if (typeof first === 'string') return setFault(first);
      starts.current = false;
      setFault(null);
      setRequest(first);
    });
  }, [run, base, setupId, helper, lampId, surfaceId, made]);

  useEffect(() => {
    if (request === null) return undefined;
    return run('gripPlan', { kind: 'gripPlan', document: base, setupId, request }, (plan) =>
      setPlanned({ base, request, plan }),
    );
  }, [run, base, setupId, request]);

  const subject = subjectOf(request);
  const latest = useRef(request);
  useEffect(() => {
    latest.current = request;
  });
  useEffect(() => {
    if (subject === '' || latest.current === null) return undefined;
    const task = { kind: 'gripFigures', document: base, setupId, request: latest.current } as const;
    return run('gripBefore', task, (figures) => setBefore({ base, subject, figures }));
  }, [run, base, setupId, subject]);

  const isPlanned = planned !== null && planned.base === base && planned.request === request;
  const plan = isPlanned ? planned.plan : null;
  useEffect(() => {
    if (!plan?.ok || latest.current === null) return undefined;
    const task = {
      kind: 'gripFigures',
      document: withSetup(base, plan.setup),
      setupId,
      request: latest.current,
    } as const;
    return run('gripAfter', task, (figures) => setAfter({ plan, figures }));
  }, [run, base, setupId, plan]);

  const findBest = (): void => {
    if (request === null) return;
    setSearching(true);
    run('gripBest', { kind: 'gripBest', document: base, setupId, request }, (best) => {
      setSearching(false);
      if (best !== null && latest.current === request) setRequest(best);
    });
  };
  return {
    base,
    request,
    change: setRequest,
    plan,
    before: before !== null && before.base === base && before.subject === subject ? before.figures : null,
    after: after !== null && after.plan === plan ? after.figures : null,
    fault: setupOf(base, setupId)?.sources[lampId] ? fault : 'The lamp is gone from this setup.',
    isSearching,
    findBest,
  };
}
