/** The compiled kernel that is kept is that of the sources beside it. */
import { expect, test } from 'vitest';
import { kernelCode } from '../../../scripts/build-kernel';
import { KERNEL_CODE } from '../../../src/sim/solve/kernelCode';

test('kernelCode.ts is what kernel/ compiles to', async () => {
  expect(await kernelCode()).toContain(`'${KERNEL_CODE}'`);
});
