/**
 * Compiles the inner loops that are written in AssemblyScript (`src/ ... /NAME.as.ts`) to WebAssembly with SIMD, each into `NAME-code.ts`
 * beside it (`npm run kernels`), or with --check only fails where what is there is not what the source gives.
 */
import fs from 'node:fs';
import path from 'node:path';
import asc from 'assemblyscript/asc';

const root = path.resolve(import.meta.dirname, '..');
const ENDING = '.as.ts';
const isCheck = process.argv.includes('--check');

const sources = fs
  .readdirSync(path.join(root, 'src'), { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith(ENDING))
  .sort();

for (const name of sources) {
  const source = path.posix.join('src', name.split(path.sep).join('/'));
  const target = path.join(root, source.replace(ENDING, '-code.ts'));
  const text = `/** ${path.basename(source)}, compiled: written by \`npm run kernels\`, not by hand. Base64 of a WebAssembly module. */
export const CODE =
  '${Buffer.from(await compiled(source)).toString('base64')}';
`;
  if (!isCheck) fs.writeFileSync(target, text);
  else if (!fs.existsSync(target) || fs.readFileSync(target, 'utf8') !== text) {
    process.stderr.write(
      `${path.relative(root, target)} is not what ${source} gives; run "npm run kernels".\n`,
    );
    process.exitCode = 1;
  }
}

async function compiled(source: string): Promise<Uint8Array> {
  let code: Uint8Array | null = null;
  const { error, stderr } = await asc.main(
    [
      ...[source, '--outFile', 'kernel.wasm', '-O3', '--noAssert', '--runtime', 'stub'],
      ...['--enable', 'simd', '--enable', 'bulk-memory', '--initialMemory', '1'],
    ],
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
