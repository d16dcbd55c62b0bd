import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import list from '../../content/words/en/list.json' with { type: 'json' };
import { policy } from '../../src/tools/serve.mjs';
import { launchChromium, launchFirefox, launchWebKit, startServer, type Engine } from './harness.ts';
import { patienceMs } from './rest.ts';

/** The page once the offer of help stands on it: that comes last, when the browser has told whether it was taken. */
const firstText = `new Promise((done, fail) => {
  const end = performance.now() + ${patienceMs};
  (function look() {
    const text = document.getElementById('app').innerText.trim();
    if (text.includes(${JSON.stringify(list['plan.help.offer'])})) done(text);
    else if (performance.now() > end) fail(new Error('the page stayed at: ' + text));
    else requestAnimationFrame(look);
  })();
})`;

/** A browser may answer the request to keep the data at any time after the start: that line is left out of the page. */
const withoutStorage = (text: unknown) =>
  [list['cases.storage-kept'], list['cases.storage-at-risk'], list['cases.storage-unknown']].reduce(
    (left, line) => left.replace(line, ''),
    String(text),
  );

const workerState = `Promise.race([
  navigator.serviceWorker.ready.then((registration) => new Promise((done) => {
    const worker = registration.active;
    const tell = () => worker.state === 'activated' && done(worker.state);
    worker.addEventListener('statechange', tell);
    tell();
  })),
  new Promise((done) => setTimeout(() => done('no worker came'), ${patienceMs})),
])`;

const fontsOf = (weight: number) =>
  `document.fonts.load('${weight} 20px "Atkinson Hyperlegible Next"').then((faces) => faces.map((face) => face.status))`;

const engines: [string, () => Promise<Engine | null>][] = [
  ['Chromium', launchChromium],
  ['Firefox', launchFirefox],
  ['WebKit', launchWebKit],
];

describe.each(engines)('the built app in %s', (name, launch) => {
  let engine: Engine | null = null;
  let server: Awaited<ReturnType<typeof startServer>>;
  beforeAll(async () => {
    server = await startServer();
    engine = await launch();
    if (!engine) console.warn(`${name} skipped: not on this machine`);
    await engine?.open(server.url);
  });
  afterAll(async () => {
    await engine?.close();
    await server.close();
  });

  it('shows words, ships its two weights of type, and works without a network once it was loaded', async (task) => {
    if (!engine) return task.skip('skipped: not on this machine');
    const first = withoutStorage(await engine.evaluate(firstText));
    expect(first).toMatch(/\p{L}{3}/u);
    expect(await engine.evaluate(fontsOf(400))).toEqual(['loaded']);
    expect(await engine.evaluate(fontsOf(700))).toEqual(['loaded']);
    expect(await engine.evaluate(workerState)).toBe('activated');

    await server.close();
    await engine.open(server.url);
    expect(withoutStorage(await engine.evaluate(firstText))).toBe(first);
  });
});

it('does nothing at start that the content policy forbids, nor anything else Chromium complains of', async (task) => {
  const engine = await launchChromium();
  if (!engine) return task.skip('skipped: not on this machine');
  const server = await startServer();
  try {
    const complaints: string[] = [];
    engine.page.on(
      'console',
      (message) => ['error', 'warning'].includes(message.type()) && complaints.push(message.text()),
    );
    engine.page.on('pageerror', (error) => complaints.push(String(error)));
    await engine.open(server.url);
    await engine.evaluate(firstText);
    await engine.evaluate(workerState);
    expect(complaints).toEqual([]);
  } finally {
    await engine.close();
    await server.close();
  }
});

it('says the same content policy in the page as in the headers', () => {
  const html = readFileSync(resolve(import.meta.dirname, '../../dist/index.html'), 'utf8');
  expect(html).toContain(`content="${policy.replace("; frame-ancestors 'none'", '')}"`);
});
