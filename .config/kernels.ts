/**
 * Compiles the inner loops that are written in AssemblyScript to WebAssembly with SIMD (`npm run kernels`), each into a module of its
 * text in base64, so that whoever runs or builds the program needs no compiler and finds no file amiss; with --check only fails when
 * what is there is not what the source gives.
 */
import fs from 'node:fs';
import path from 'node:path';

/** The part of the compiler that is used. Its own types would declare globals of its dialect for all of the program. */
interface Compiler {
  main(
    options: readonly string[],
    files: {
      readonly readFile: (name: string, folder: string) => string | null;
      readonly writeFile: (name: string, content: Uint8Array | string) => void;
    },
  ): Promise<{ readonly error: Error | null; readonly stderr: { toString(): string } }>;
}
const { default: asc } = (await import('assemblyscript/asc' as string)) as { readonly default: Compiler };

const root = path.resolve(import.meta.dirname, '..');

const KERNELS = [
  {
    source: 'src/numerics/envelope/loops.as.ts',
    target: 'src/numerics/envelope/loops-code.ts',
    options: ['--enable', 'simd', '--enable', 'bulk-memory', '--initialMemory', '1'],
  },
  {
    source: 'src/numerics/large/loops.as.ts',
    target: 'src/numerics/large/loops-code.ts',
    options: ['--enable', 'simd', '--enable', 'bulk-memory', '--initialMemory', '1'],
  },
  {
    source: 'src/synth/rows/assembly/index.ts',
    target: 'src/synth/rows/loops-code.ts',
    options: [
      ...['--enable', 'simd', '--enable', 'bulk-memory', '--initialMemory', '1'],
      ...['--use', 'abort=', '--disableWarning', '112'],
    ],
  },
  {
    source: 'src/vision/kernel/assembly/index.ts',
    target: 'src/vision/kernel/kernel-code.ts',
    options: [
      ...['--enable', 'simd', '--enable', 'threads', '--importMemory', '--noExportMemory', '--sharedMemory'],
      ...['--initialMemory', '1', '--maximumMemory', '65536', '--use', 'abort=', '--disableWarning', '112'],
    ],
  },
];
const isCheck = process.argv.includes('--check');

for (const { source, target, options } of KERNELS) {
  const file = path.join(root, target);
  const code = Buffer.from(await compiled(source, options)).toString('base64');
  const text = `/** ${path.relative(path.dirname(target), source)}, compiled by \`npm run kernels\`: base64 of a WebAssembly module. */
export const CODE =
  '${code}';
`;
  if (!isCheck) fs.writeFileSync(file, text);
  else if (!fs.existsSync(file) || fs.readFileSync(file, 'utf8') !== text) {
    process.stderr.write(`${target} is not what ${source} gives; run "npm run kernels".\n`);
    process.exitCode = 1;
  }
}

async function compiled(source: string, options: readonly string[]): Promise<Uint8Array> {
  let code: Uint8Array | null = null;
  const { error, stderr } = await asc.main(
    [source, '--outFile', 'kernel.wasm', '-O3', '--noAssert', '--runtime', 'stub', ...options],
    {
      readFile: (name, folder) => {
        const file = path.join(folder, name);
        return fs.existsSync(file) ? fs.readFileSync(file, 'utf8') : null;
      },
      writeFile: (_, content) => {
        if (typeof content !== 'string') code = content;
      },
    },
  );
  if (error || code === null)
    throw new Error(`${source}: ${error?.message ?? 'no code'}\n${stderr.toString()}`);
  return code;
}
