/**
 * The screens' side of the solver worker. Every call settles: with an answer, as superseded or cancelled, or as
 * failed, also when the worker dies. A dead worker is replaced by a fresh one at the next call.
 */
import {
  CHANNELS,
  type Channel,
  type Fault,
  type FromWorker,
  type Task,
  type TaskResult,
  type ToWorker,
} from './protocol';

/** What the client needs of a Worker; tests hand in a fake. */
export interface SolverEndpoint {
  postMessage(message: ToWorker): void;
  /** From here on scenes are sent whole again, for an endpoint that leaves out what it has sent. */
  forgetSent?(): void;
  terminate(): void;
  onmessage: ((event: { readonly data: FromWorker }) => void) | null;
  onerror: ((event: { readonly message?: string }) => void) | null;
  onmessageerror: (() => void) | null;
}

export type Settled<R> =
  | { readonly status: 'done'; readonly revision: number; readonly result: R }
  /** A newer job of the same channel took its place. */
  | { readonly status: 'superseded' }
  | { readonly status: 'cancelled' }
  | { readonly status: 'failed'; readonly fault: Fault };

export interface JobProgress {
  readonly fraction: number;
  readonly surfaceId: string | null;
}

export interface SolverClient {
  /**
   * Starts a job and supersedes the channel's earlier one.
   * @returns settles exactly once and never rejects
   */
  run<T extends Task>(
    channel: Channel,
    revision: number,
    task: T,
    onProgress?: (progress: JobProgress) => void,
  ): Promise<Settled<TaskResult<T>>>;
  /** Cancels the channel's job, if one is under way. */
  cancel(channel: Channel): void;
  /** Ends the worker; calls under way settle as cancelled, and later ones at once as failed. */
  terminate(): void;
}

interface Pending {
  readonly jobId: number;
  readonly channel: Channel;
  readonly message: ToWorker;
  readonly onProgress: ((progress: JobProgress) => void) | undefined;
  readonly settle: (outcome: Settled<never>) => void;
}

export interface ClientOptions {
  /**
   * True: giving up a job, also for a newer one, ends its worker at once, and with it every other job of this client. For
   * jobs whose slices are long: what nobody waits for any more must not go on using the machine.
   */
  readonly endsWorkerOnCancel?: boolean;
}

/** @param spawn makes a worker; called at the first job, after each crash and after each ended worker */
export function createSolverClient(spawn: () => SolverEndpoint, options: ClientOptions = {}): SolverClient {
  const pending = new Map<Channel, Pending>();
  let endpoint: SolverEndpoint | null = null;
  let lastJobId = 0;
  let ended = false;

  const close = (channel: Channel, outcome: Settled<never>): void => {
    const job = pending.get(channel);
    if (!job) return;
    pending.delete(channel);
    job.settle(outcome);
  };
  const closeAll = (outcome: Settled<never>): void => {
    for (const channel of CHANNELS) close(channel, outcome);
  };

  const letGo = (): void => {
    const dead = endpoint;
    endpoint = null;
    if (!dead) return;
    dead.onmessage = dead.onerror = dead.onmessageerror = null;
    dead.terminate();
  };
  const crash = (fault: Fault): void => {
    letGo();
    closeAll({ status: 'failed', fault });
  };

  const receive = (message: FromWorker): void => {
    const job = [...pending.values()].find((candidate) => candidate.jobId === message.jobId);
    if (!job) return; // an answer that nobody waits for any more
    switch (message.type) {
      case 'progress':
        job.onProgress?.({ fraction: message.fraction, surfaceId: message.surfaceId });
        return;
      case 'done':
        close(job.channel, { status: 'done', revision: message.revision, result: message.result as never });
        return;
      case 'cancelled':
        close(job.channel, { status: 'cancelled' });
        return;
      case 'missing':
        endpoint?.forgetSent?.();
        endpoint?.postMessage(job.message);
        return;
      case 'failed':
        close(job.channel, { status: 'failed', fault: message.fault });
    }
  };

  const connect = (): SolverEndpoint => {
    const fresh = spawn();
    fresh.onmessage = (event) => receive(event.data);
    fresh.onerror = (event) => crash({ name: 'WorkerError', message: event.message ?? 'the solver stopped' });
    fresh.onmessageerror = () => crash({ name: 'MessageError', message: 'an answer of the solver could not be read' });
    endpoint = fresh;
    return fresh;
  };

  return {
    run(channel, revision, task, onProgress) {
      if (ended) {
        return Promise.resolve({
          status: 'failed',
          fault: { name: 'WorkerEnded', message: 'the solver has been ended' },
        });
      }
      return new Promise((resolve) => {
        const isBusy = pending.has(channel);
        close(channel, { status: 'superseded' });
        if (isBusy && options.endsWorkerOnCancel) {
          letGo();
          closeAll({ status: 'cancelled' });
        }
        const jobId = (lastJobId += 1);
        const message = { type: 'start', jobId, revision, channel, task } as const;
        pending.set(channel, { jobId, channel, message, onProgress, settle: resolve });
        try {
          // The worker drops the channel's earlier job by itself when the newer one arrives.
          (endpoint ?? connect()).postMessage(message);
        } catch (thrown) {
          crash({ name: 'WorkerError', message: thrown instanceof Error ? thrown.message : String(thrown) });
        }
      });
    },
    cancel(channel) {
      const job = pending.get(channel);
      if (!job) return;
      close(channel, { status: 'cancelled' });
      if (options.endsWorkerOnCancel) {
        letGo();
        closeAll({ status: 'cancelled' });
      } else endpoint?.postMessage({ type: 'cancel', jobId: job.jobId });
    },
    terminate() {
      ended = true;
      endpoint?.terminate();
      endpoint = null;
      closeAll({ status: 'cancelled' });
    },
  };
}
