/** Starts the page, in its clothes. Where it cannot start at all it says so in one line, instead of staying empty. */
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

const NEEDS_OTHER = 'this browser does not run WebAssembly, in which the light is computed. Use one from 2024 or later';
const MAY_HELP = 'loading the page again may help; your work is where it was';

import('./main').catch((fault: unknown) => {
  const why = fault instanceof Error ? fault.message : String(fault);
  const hasKernel = typeof WebAssembly !== 'undefined';
  // Engines refuse the compiled kernel by their policy or for its size.
  const isRefused = hasKernel && (fault instanceof WebAssembly.CompileError || fault instanceof RangeError);
  const root = document.getElementById('root')!;
  root.className = 'not-started';
  root.textContent = `Farsun did not start: ${hasKernel && !isRefused ? MAY_HELP : NEEDS_OTHER} (${why}).`;
});
