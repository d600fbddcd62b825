import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    environment: 'node',
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**'],
    // By default one core is left free: half of what two have.
    maxWorkers: '100%',
    testTimeout: 60_000,
  },
});
