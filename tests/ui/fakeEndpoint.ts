/** A worker that does nothing by itself: tests see what was sent and answer by hand. */
import type { SolverEndpoint } from '../../src/sim/worker/client';
import type { FromWorker, ToWorker } from '../../src/sim/worker/protocol';

export interface FakeEndpoint extends SolverEndpoint {
  readonly sent: ToWorker[];
  terminated: boolean;
  answer(message: FromWorker): void;
}

export function fakeEndpoint(): FakeEndpoint {
  const endpoint: FakeEndpoint = {
    sent: [],
    terminated: false,
    onmessage: null,
    onerror: null,
    onmessageerror: null,
    postMessage: (message) => void endpoint.sent.push(structuredClone(message)),
    terminate: () => void (endpoint.terminated = true),
    answer: (message) => endpoint.onmessage?.({ data: message }),
  };
  return endpoint;
}
