import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/*
 * Compiles assembly/*.ts to WebAssembly and writes it as text to kernel-bytes.ts, unless that is the compilation of these
 * very sources already. `npm run build` runs it.
 */

const folder = fileURLToPath(new URL('.', import.meta.url));
const target = `${folder}kernel-bytes.ts`;
const sources = readdirSync(`${folder}assembly`).sort();
/** 32 MB, of which the system gives out what is used. */
const PAGES = 512;

/** SHA-256 of the sources and of this file, which holds the compiler's options. @returns {string} */
export function fingerprint() {
  const hash = createHash('sha256');
  for (const name of [...sources.map((source) => `assembly/${source}`), 'build-kernels.mjs'])
    hash.update(readFileSync(folder + name, 'utf8').replaceAll('\r\n', '\n'));
  return hash.digest('hex').slice(0, 16);
}

async function compile() {
  const { default: asc } = await import('assemblyscript/asc');
  let binary;
  const { error, stderr } = await asc.main(
    [
      ...['assembly/lossless.ts', 'assembly/absorbing.ts', '--outFile', 'kernels.wasm', '--baseDir', folder],
      ...['-O3', '--runtime', 'stub', '--enable', 'simd', '--noAssert', '--initialMemory', `${PAGES}`],
      // Vectors never leave the module: what takes or returns them is put in its place.
      ...['--disableWarning', '112'],
    ],
    {
      writeFile: (_name, contents) => {
        binary = contents;
      },
    },
  );
  if (error !== null || binary === undefined) throw new Error(`the kernels do not compile: ${stderr}`);
  return Buffer.from(binary).toString('base64');
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const standing = existsSync(target) ? readFileSync(target, 'utf8') : '';
  if (!standing.includes(`'${fingerprint()}'`))
    writeFileSync(
      target,
      `/** assembly/*.ts as compiled by build-kernels.mjs: SHA-256 of the sources, and the module in base 64. */
export const KERNEL_SOURCES = '${fingerprint()}';
export const KERNEL_BYTES =
  '${await compile()}';
`,
    );
}
