import { useCallback, useEffect, useRef, useState } from 'react';
import type { SceneDocument } from '../../scene/schema';
import type { CompareTask, EvenOutTask, MeteringTask, ThrowTask } from '../../sim/coverage/coverageTasks';
import type { SunThrowTask } from '../../sim/coverage/sunThrow';
import type { WalkTask } from '../../sim/teach/walk';
import type { Channel, PlaceJob, TaskResult } from '../../sim/worker/protocol';
import { useApp } from '../app';

export type CoverageTask = ThrowTask | EvenOutTask | CompareTask | MeteringTask | PlaceJob | SunThrowTask | WalkTask;

const sceneOf = (task: CoverageTask): SceneDocument => (task.kind === 'place' ? task.request.document : task.document);

export interface Answer<R> {
  readonly result: R;
  /** What was asked; an answer about another scene than the shown one is out of date. */
  readonly document: SceneDocument;
}
export interface Job<T extends CoverageTask> {
  readonly answer: Answer<TaskResult<T>> | null;
  /** 0 to 1 while the worker is at it, else null. */
  readonly fraction: number | null;
  readonly fault: string | null;
  readonly start: (task: T) => void;
  readonly stop: () => void;
}

/** One kind of job of the coverage worker: the newest wins, old answers stay until new ones land. */
export function useJob<T extends CoverageTask>(channel: Channel): Job<T> {
  const { coverageSolver } = useApp();
  const [answer, setAnswer] = useState<Answer<TaskResult<T>> | null>(null);
  const [fraction, setFraction] = useState<number | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const revision = useRef(0);
  const start = useCallback(
    (task: T): void => {
      const own = (revision.current += 1);
      setFraction(0);
      setFault(null);
      const isNewest = (): boolean => own === revision.current;
      void coverageSolver
        .run(channel, own, task, (progress) => isNewest() && setFraction(progress.fraction))
        .then((outcome) => {
          if (!isNewest()) return;
          setFraction(null);
          if (outcome.status === 'done') setAnswer({ result: outcome.result, document: sceneOf(task) });
          if (outcome.status === 'failed') setFault(outcome.fault.message);
        });
    },
    [coverageSolver, channel],
  );
  const stop = useCallback((): void => {
    revision.current += 1;
    coverageSolver.cancel(channel);
    setFraction(null);
  }, [coverageSolver, channel]);
  useEffect(() => stop, [stop]);
  return { answer, fraction, fault, start, stop };
}

const REST_MS = 150;
/** Starts a job once what it is about has rested; `key` names what it is about. */
export function useWhenRested(key: readonly unknown[], start: () => void, restMs = REST_MS): void {
  const latest = useRef(start);
  useEffect(() => {
    latest.current = start;
  });
  useEffect(() => {
    const timer = setTimeout(() => latest.current(), restMs);
    return () => clearTimeout(timer);
    // eslint-disable-next-line react-hooks/exhaustive-deps -- the caller's list is the list
  }, key);
}
