/**
 * WebKit's small browser killed at random moments while a page records entries, again and again on one profile. Driven
 * sessions keep nothing there, so the page runs by itself and tells of its start and of each recorded entry over HTTP.
 */
import { randomInt } from 'node:crypto';
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findWebKit } from '../../src/tools/engines.mjs';
import { serveLogPage } from '../browsers/log-page.ts';

interface Told {
  started?: { held: Record<string, number> };
  recorded?: { caseId: string; n: number };
}

/** Runs in the page: starts the log, says what it holds, then records into the case of its address for ever. */
const script = `
const tell = (told) => fetch('/told', { method: 'POST', keepalive: true, body: JSON.stringify(told) });
while (!window.logPage) await new Promise((wake) => setTimeout(wake, 20));
const { held } = await logPage.start();
await tell({ started: { held } });
window.acked = (caseId, n) => void tell({ recorded: { caseId, n } });
const caseId = new URLSearchParams(location.search).get('case');
if (caseId) await logPage.writeForever(caseId);
`;

export interface WebKitTally {
  kills: number;
  /** Entries that the page said were recorded. */
  recorded: number;
  /** Of those, entries missing in any later start. */
  lost: number;
}

/** @returns the tally, or null when the engine is not on this machine */
export async function runWebKitKills(kills: number, tell: (line: string) => void): Promise<WebKitTally | null> {
  const found = findWebKit();
  if (!found) return null;
  const site = await serveLogPage();
  const home = await mkdtemp(join(tmpdir(), 'counterturn-webkit-'));
  let hear: (told: Told) => void = () => {};
  const server = createServer((request, response) => {
    const finish = async () => {
      if (request.method === 'POST') {
        let body = '';
        for await (const piece of request) body += String(piece);
        hear(JSON.parse(body) as Told);
        return response.writeHead(204).end();
      }
      if (request.url === '/run.js') return response.writeHead(200, { 'content-type': 'text/javascript' }).end(script);
      const page = await fetch(new URL((request.url ?? '/').slice(1), new URL('.', site.url)));
      const bytes = Buffer.from(await page.arrayBuffer());
      const type = page.headers.get('content-type') ?? '';
      response.writeHead(page.status, { 'content-type': type });
      response.end(
        type.startsWith('text/html')
          ? bytes.toString().replace('</head>', '<script type="module" src="/run.js"></script></head>')
          : bytes,
      );
    };
    finish().catch((error: unknown) => response.writeHead(500).end(String(error)));
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as { port: number };

  const screen = spawn(found.screen, ['-displayfd', '3', '-nolisten', 'tcp', '-screen', '0', '1280x900x24'], {
    stdio: ['ignore', 'ignore', 'ignore', 'pipe'],
  });
  const [shown] = (await once(screen.stdio[3] as NodeJS.ReadableStream, 'data')) as [Buffer];

  const recorded = new Map<string, number>();
  const tally: WebKitTally = { kills: 0, recorded: 0, lost: 0 };

  /** One start on the profile: what it held is compared, then it records until it is killed. */
  const run = async (caseId: string | null, ms: number): Promise<void> => {
    const started = new Promise<void>((done, fail) => {
      const timer = setTimeout(() => fail(new Error('the page did not start within 60 s')), 60_000);
      hear = ({ started: start, recorded: one }) => {
        if (one) {
          tally.recorded++;
          recorded.set(one.caseId, Math.max(one.n, recorded.get(one.caseId) ?? 0));
        }
        if (!start) return;
        clearTimeout(timer);
        for (const [id, n] of recorded) {
          const missing = Math.max(0, n - (start.held[id] ?? 0));
          if (missing) tell(`${id}: ${n} recorded, ${start.held[id] ?? 'none'} found`);
          tally.lost += missing;
          if (missing) recorded.set(id, n - missing);
        }
        done();
      };
    });
    const address = `http://127.0.0.1:${port}/log.html${caseId ? `?case=${caseId}` : ''}`;
    const browser = spawn(found.browser, [address], {
      detached: true,
      stdio: 'ignore',
      env: {
        ...process.env,
        DISPLAY: `:${String(shown).trim()}`,
        HOME: home,
        XDG_DATA_HOME: join(home, 'data'),
        XDG_CACHE_HOME: join(home, 'cache'),
        XDG_CONFIG_HOME: join(home, 'config'),
        WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1',
      },
    });
    const gone = once(browser, 'exit');
    await started;
    await new Promise((wake) => setTimeout(wake, ms));
    process.kill(-(browser.pid as number), 'SIGKILL');
    await gone;
  };

  try {
    for (let k = 0; k < kills; k++) {
      await run(`case-${k}`, randomInt(60, 900));
      tally.kills++;
      if (tally.kills % 10 === 0) tell(`WebKit: ${JSON.stringify(tally)}`);
    }
    for (let start = 0; start < 2; start++) await run(null, 0);
    return tally;
  } finally {
    screen.kill();
    server.close();
    await site.close();
    await rm(home, { recursive: true, force: true, maxRetries: 10, retryDelay: 300 });
  }
}
