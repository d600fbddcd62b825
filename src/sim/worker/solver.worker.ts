/** Entry of the solver worker: wires the job loop to the messages of its thread. */
import { createJobLoop } from './jobLoop';
import { createUnpacker, type PackedToWorker } from './packing';
import type { FromWorker } from './protocol';
import { beginTask } from './tasks';

/** The part of a worker's own scope that is used here; the page's types do not know it. */
interface WorkerScope {
  postMessage(message: FromWorker, transfer: ArrayBuffer[]): void;
  onmessage: ((event: { readonly data: PackedToWorker }) => void) | null;
}
const scope = self as unknown as WorkerScope;

// A message to oneself is a macrotask without the delay of a timer: waiting messages are delivered before it.
const { port1, port2 } = new MessageChannel();
let next: (() => void) | null = null;
port1.onmessage = () => {
  const turn = next;
  next = null;
  turn?.();
};

const receive = createJobLoop({
  post: (message, transfer) => scope.postMessage(message, transfer),
  begin: beginTask,
  yieldThen: (turn) => {
    next = turn;
    port2.postMessage(null);
  },
});
const unpack = createUnpacker();
scope.onmessage = ({ data }) => {
  const message = unpack(data);
  if (message) receive(message);
  else scope.postMessage({ type: 'missing', jobId: data.jobId }, []);
};
