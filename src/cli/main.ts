/** `farsun` on the command line: the same light as in the browser, without one. */
import { runCommandLine } from './run';

// A reader that has had enough (head, less) closes the pipe: that is no fault of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

// The exit code is set, not forced, so that what is still in the pipe gets out.
process.exitCode = await runCommandLine(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
});
