/**
 * The worker's side without the worker: takes jobs, runs one slice at a time and gives way in between, so that a
 * cancel or a newer job is heard while a grid is being solved. Pure of threads; tests drive it in Node.
 */
import type { Channel, FromWorker, Task, TaskResults, ToWorker } from './protocol';
import { CHANNELS, faultFrom, transferables } from './protocol';

/** A running task: each `next` does one short slice of work; the last one returns the result. */
export type TaskSlices = Generator<
  { readonly fraction: number; readonly surfaceId: string | null },
  TaskResults[Task['kind']],
  void
>;

export interface JobLoopHost {
  readonly post: (message: FromWorker, transfer: ArrayBuffer[]) => void;
  /** Begins a task; it is advanced slice by slice. */
  readonly begin: (task: Task) => TaskSlices;
  /** Calls back on a later macrotask, after waiting messages have been delivered. */
  readonly yieldThen: (next: () => void) => void;
}

interface Job {
  readonly jobId: number;
  readonly revision: number;
  readonly task: Task;
  slices: TaskSlices | null;
}

/** @returns the receiver of the worker's messages */
export function createJobLoop(host: JobLoopHost): (message: ToWorker) => void {
  const jobs = new Map<Channel, Job>();
  let turning = false;

  const drop = (channel: Channel): void => {
    const job = jobs.get(channel);
    if (!job) return;
    jobs.delete(channel);
    host.post({ type: 'cancelled', jobId: job.jobId }, []);
  };

  const advance = (channel: Channel, job: Job): void => {
    try {
      job.slices ??= host.begin(job.task);
      const step = job.slices.next();
      if (!step.done) {
        host.post({ type: 'progress', jobId: job.jobId, ...step.value }, []);
        return;
      }
      jobs.delete(channel);
      const done = { type: 'done', jobId: job.jobId, revision: job.revision, result: step.value } as const;
      host.post(done, transferables(step.value));
    } catch (thrown) {
      jobs.delete(channel);
      host.post({ type: 'failed', jobId: job.jobId, fault: faultFrom(thrown) }, []);
    }
  };

  const turn = (): void => {
    const channel = CHANNELS.find((candidate) => jobs.has(candidate));
    const job = channel && jobs.get(channel);
    if (!channel || !job) {
      turning = false;
      return;
    }
    advance(channel, job);
    host.yieldThen(turn);
  };

  return (message) => {
    if (message.type === 'cancel') {
      for (const [channel, job] of jobs) if (job.jobId === message.jobId) drop(channel);
      return;
    }
    drop(message.channel);
    const { jobId, revision, task } = message;
    jobs.set(message.channel, { jobId, revision, task, slices: null });
    if (turning) return;
    turning = true;
    host.yieldThen(turn);
  };
}
