import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    globalSetup: ['tests/own-cache.ts'],
    // Speech models run in some tests: slow machines and busy ones must not fail for it.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    expect: { poll: { timeout: 10_000 } },
    // The report is what .ci/run counts from; it is no file of the project.
    reporters: ['default', ['json', { outputFile: 'node_modules/.cache/vitest-report.json' }]],
  },
});
