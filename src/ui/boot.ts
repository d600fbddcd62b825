/** Starts the page. Where it cannot start at all it says so in one line, instead of staying empty. */
import('./main').catch((fault: unknown) => {
  const why = fault instanceof Error ? fault.message : String(fault);
  const line = `Farsun cannot start in this browser (${why}). It needs one from 2023 or later that may run WebAssembly.`;
  document.getElementById('root')!.textContent = line;
});
