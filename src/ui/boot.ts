/** Starts the page, with its styles. Where it cannot start at all it says so in one line, instead of staying empty. */
import '@fontsource-variable/archivo/standard.css';
import './styles/tokens.css';
import './styles/base.css';
import './styles/layout.css';
import './styles/layoutNarrow.css';
import './styles/sheets.css';
import './styles/panel.css';
import './styles/mends.css';
import './styles/web.css';
import './styles/kit.css';
import './styles/fields.css';
import './styles/notices.css';
import './styles/coverage.css';
import './styles/throwChart.css';
import './styles/makeSun.css';
import './styles/lessonCharts.css';
import './styles/freeBench.css';
import './styles/lessons.css';
import './styles/handout.css';
import './styles/drafting.css';
import './styles/grip.css';
import './styles/setups.css';

const NO_WEB_ASSEMBLY =
  'this browser does not run WebAssembly, in which the light is computed. Use one from 2024 or later.';
const MAY_HELP = 'loading the page again may help; your work is where it was';

import('./main').catch((fault: unknown) => {
  const root = document.getElementById('root')!;
  root.className = 'not-started';
  root.textContent = `Farsun did not start: ${runsKernel(fault) ? `${MAY_HELP} (${String(fault)}).` : NO_WEB_ASSEMBLY}`;
});

/** False where the engine has no WebAssembly, or refuses the compiled kernel by its policy or for its size. */
function runsKernel(fault: unknown): boolean {
  if (typeof WebAssembly === 'undefined') return false;
  return !(fault instanceof WebAssembly.CompileError || fault instanceof RangeError);
}
