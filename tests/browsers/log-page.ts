/** Builds the log's test page into a folder of its own and serves it under the app's own content policy. */
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
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

/** SIGKILL to the whole process group of the browser that runs on a profile (Linux). Nothing is written out, nobody is asked. */
export async function killGroup(profile: string): Promise<void> {
  let killed = 0;
  for (const pid of (await readdir('/proc')).filter((name) => /^\d+$/.test(name))) {
    const words = (await readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => '')).split('\0');
    // Helpers name the profile too, some of them; only the browser itself has no type and leads the group.
    const own =
      words.includes(`--user-data-dir=${profile}`) || (words.includes('--profile') && words.includes(profile));
    if (!own || words.some((word) => word.startsWith('--type=') || word === '-contentproc')) continue;
    const group = (await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => '')).split(') ')[1]?.split(' ')[2];
    if (group !== pid) continue;
    process.kill(-Number(pid), 'SIGKILL');
    killed++;
  }
  if (killed !== 1) throw new Error(`expected one browser on the profile, killed ${killed}`);
}
