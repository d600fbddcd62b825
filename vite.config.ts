import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

/** Constants stay constants: the engine then knows where the kernel's arrays lie, and a map is solved a tenth quicker. */
const rolldownOptions = { output: { topLevelVar: false } };

export default defineConfig({
  plugins: [react()],
  base: './', // the built page works from any folder of any host
  worker: { format: 'es', rolldownOptions },
  build: { target: 'es2022', chunkSizeWarningLimit: 1200, rolldownOptions },
});
