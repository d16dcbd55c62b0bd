/** Builds the log's test page into a folder of its own and serves it under the app's own content policy. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { build } from 'vite';
import { serve } from '../../src/tools/serve.mjs';

export interface LogPage {
  url: string;
  port: number;
  close(): Promise<void>;
}

export async function serveLogPage(): Promise<LogPage> {
  const folder = await mkdtemp(join(tmpdir(), 'counterturn-log-page-'));
  const pages = resolve(import.meta.dirname, 'pages');
  await build({
    configFile: false,
    root: pages,
    base: './',
    logLevel: 'warn',
    build: {
      outDir: folder,
      emptyOutDir: true,
      target: 'es2022',
      minify: false,
      reportCompressedSize: false,
      rolldownOptions: { input: join(pages, 'log.html') },
    },
    worker: { format: 'es' },
  });
  const server = await serve(folder, 0);
  return {
    url: `${server.url}log.html`,
    port: server.port,
    async close() {
      await server.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
