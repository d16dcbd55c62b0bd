/** The app and the floors, built into a temporary folder that goes when the work is done. */
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { extname, join, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build } from 'vite';
import solid from 'vite-plugin-solid';

const here = import.meta.dirname;

/** Builds what the app ships, as `npm run build` does. */
export const buildApp = (outDir: string) =>
  build({
    configFile: resolve(here, '../../src/vite.config.ts'),
    logLevel: 'error',
    build: { outDir, emptyOutDir: true, sourcemap: true },
  });

/** Builds a floor with the app's own settings for size. */
export const buildFloor = (outDir: string, input: string) =>
  build({
    configFile: false,
    root: join(here, 'floor'),
    base: './',
    logLevel: 'error',
    plugins: [solid()],
    build: {
      outDir,
      target: 'es2022',
      modulePreload: { polyfill: false },
      rolldownOptions: { input: join(here, 'floor', input) },
    },
  });

export async function inTemporary<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'counterturn-bench-'));
  try {
    return await work(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

export interface Shipped {
  file: string;
  kind: string;
  /** bytes, gzip at its best */
  gzip: number;
}

/** Every file of a built folder but the maps. Fonts and pictures are compressed already and count as they are. */
export async function shipped(folder: string): Promise<Shipped[]> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && extname(entry.name) !== '.map')
    .map((entry) => join(entry.parentPath, entry.name));
  return Promise.all(
    files.map(async (file) => {
      const bytes = await readFile(file);
      const kind = extname(file).slice(1);
      const gzip = ['woff2', 'png'].includes(kind) ? bytes.length : gzipSync(bytes, { level: 9 }).length;
      return { file: file.slice(folder.length + 1), kind, gzip };
    }),
  );
}
