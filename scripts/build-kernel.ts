/**
 * `npm run build:kernel`: compiles kernel/ to WebAssembly and writes it, as text, to src/sim/solve/kernelCode.ts. That file
 * is kept under version control, so that nothing has to be compiled to run or to test the rest; a test compiles anew and
 * compares.
 */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import asc from 'assemblyscript/asc';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const OPTIONS = ['-O3', '--runtime', 'stub', '--noAssert', '--outFile', 'kernel.wasm'];

/**
 * @returns the text of src/sim/solve/kernelCode.ts as it should be
 * @throws {Error} with what the compiler says
 */
export async function kernelCode(): Promise<string> {
  let code: string | Uint8Array | null = null;
  const { error, stderr } = await asc.main(['kernel/index.ts', '--baseDir', ROOT, ...OPTIONS], {
    writeFile: (_name, contents) => {
      code = contents;
    },
  });
  if (error !== null || code === null) throw new Error(`kernel/ does not compile\n${stderr.toString()}`);
  const words = Buffer.from(code as Uint8Array).toString('base64');
  return `/** kernel/ compiled, in base64; written by \`npm run build:kernel\`. */\nexport const KERNEL_CODE =\n  '${words}';\n`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(fileURLToPath(new URL('../src/sim/solve/kernelCode.ts', import.meta.url)), await kernelCode());
}
