/**
 * Starts the real engines on the built app. Every launcher gives null when its engine is not on this machine, so that
 * its checks are skipped by name; where `CI` is set, it throws instead: there, every engine has to be.
 */
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { chromium, type BrowserContext, type Page } from 'playwright-core';
import puppeteer, { type Page as FirefoxPage } from 'puppeteer-core';
import { Builder, Capabilities, type WebDriver } from 'selenium-webdriver';
import { patienceMs } from './rest.ts';
import { findChromium, findFirefox, findWebKit } from '../../src/tools/engines.mjs';
import { serve } from '../../src/tools/serve.mjs';

/** A tablet on its side, in CSS pixels. */
export const tablet = { width: 1180, height: 820 };

/** What all three engines can do, so that one check runs in each. */
export interface Engine {
  readonly name: 'Chromium' | 'Firefox' | 'WebKit';
  open(url: string): Promise<void>;
  /** The value of an expression in the page, awaited; it must be plain data. `evaluate('1 + 1')` gives 2. */
  evaluate(expression: string): Promise<unknown>;
  /** PNG bytes of what the window shows. */
  screenshot(): Promise<Uint8Array>;
  close(): Promise<void>;
}

export interface ChromiumEngine extends Engine {
  readonly context: BrowserContext;
  readonly page: Page;
  readonly userDataDir: string;
  /** SIGKILL to the browser's own processes, as a dead battery would; the profile stays for a second start. */
  kill(): Promise<void>;
  /** Stops the browser's own processes for so long, as a device asleep does. */
  sleep(ms: number): Promise<void>;
}
export interface FirefoxEngine extends Engine {
  readonly page: FirefoxPage;
}
export interface WebKitEngine extends Engine {
  readonly driver: WebDriver;
}

export interface LaunchOptions {
  viewport?: { width: number; height: number };
  /** Kept after close when given; otherwise a new empty one that goes with the browser. */
  userDataDir?: string;
  args?: string[];
}

/**
 * Null for what is not on this machine, so that its checks are skipped.
 *
 * @throws where `CI` is set and not `false`
 */
export function absent(name: string): null {
  const { CI } = process.env;
  if (CI && CI !== 'false')
    throw new Error(`${name} is not on this machine, and nothing may be skipped here (CI is set)`);
  return null;
}

/** The built app on a free port of this machine; `npm run build` must have run. `close()` is also how to go offline. */
export async function startServer(port = 0) {
  const dist = resolve(import.meta.dirname, '../../dist');
  if (!existsSync(join(dist, 'index.html'))) throw new Error('There is no built app: npm run build');
  return serve(dist, port);
}

/** Chromium with a touch screen, driven by playwright-core. */
export async function launchChromium(options: LaunchOptions = {}): Promise<ChromiumEngine | null> {
  const executablePath = findChromium();
  if (!executablePath) return absent('Chromium');
  const profile = await profileFor(options);
  const context = await chromium.launchPersistentContext(profile.path, {
    executablePath,
    headless: true,
    viewport: options.viewport ?? tablet,
    hasTouch: true,
    acceptDownloads: true,
    args: [
      ...['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking'],
      ...['--disable-component-update', '--disable-sync', ...(options.args ?? [])],
    ],
  });
  const page = context.pages()[0] ?? (await context.newPage());
  return {
    name: 'Chromium',
    context,
    page,
    userDataDir: profile.path,
    open: async (url) => void (await page.goto(url)),
    evaluate: (expression) => page.evaluate(expression),
    screenshot: () => page.screenshot(),
    kill: async () => {
      await signalGroup(profile.path, 'SIGKILL');
      await context.close().catch(() => undefined);
    },
    sleep: async (ms) => {
      await signalGroup(profile.path, 'SIGSTOP');
      await new Promise((wake) => setTimeout(wake, ms));
      await signalGroup(profile.path, 'SIGCONT');
    },
    close: async () => {
      await context.close();
      await profile.remove();
    },
  };
}

/** Stock Firefox, driven by puppeteer-core over WebDriver BiDi. */
export async function launchFirefox(options: LaunchOptions = {}): Promise<FirefoxEngine | null> {
  const executablePath = findFirefox();
  if (!executablePath) return absent('Firefox');
  const profile = await profileFor(options);
  const browser = await puppeteer.launch({
    browser: 'firefox',
    protocol: 'webDriverBiDi',
    executablePath,
    headless: true,
    userDataDir: profile.path,
    args: options.args ?? [],
  });
  const page = await browser.newPage();
  await page.setViewport(options.viewport ?? tablet);
  return {
    name: 'Firefox',
    page,
    open: async (url) => void (await page.goto(url)),
    evaluate: (expression) => page.evaluate(expression),
    screenshot: () => page.screenshot(),
    close: async () => {
      await browser.close();
      await profile.remove();
    },
  };
}

/** WebKitGTK's small browser under a virtual screen. Every session starts empty: it cannot show that data outlive it. */
export async function launchWebKit(options: Omit<LaunchOptions, 'userDataDir'> = {}): Promise<WebKitEngine | null> {
  const found = findWebKit();
  if (!found) return absent('WebKit');
  const viewport = options.viewport ?? tablet;
  const screen = spawn(
    found.screen,
    [
      ...['-displayfd', '3', '-nolisten', 'tcp'],
      ...['-screen', '0', `${viewport.width + 200}x${viewport.height + 200}x24`],
    ],
    { stdio: ['ignore', 'ignore', 'ignore', 'pipe'] },
  );
  const display = await firstLine(screen.stdio[3] as NodeJS.ReadableStream);
  const port = await freePort();
  const service = spawn(found.driver, [`--port=${port}`], {
    stdio: 'ignore',
    env: { ...process.env, DISPLAY: `:${display}`, WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1' },
  });
  const stop = () => {
    service.kill();
    screen.kill();
  };
  try {
    await listening(port);
    const driver = await new Builder()
      .usingServer(`http://127.0.0.1:${port}`)
      .withCapabilities(
        new Capabilities({
          browserName: 'MiniBrowser',
          'webkitgtk:browserOptions': { binary: found.browser, args: ['--automation', ...(options.args ?? [])] },
        }),
      )
      .build();
    await driver.manage().setTimeouts({ script: 2 * patienceMs, pageLoad: patienceMs });
    await driver
      .manage()
      .window()
      .setRect({ x: 0, y: 0, ...viewport });
    return {
      name: 'WebKit',
      driver,
      open: (url) => driver.get(url),
      evaluate: (expression) => webKitValue(driver, expression),
      screenshot: async () => Buffer.from(await driver.takeScreenshot(), 'base64'),
      close: async () => {
        await driver.quit().finally(stop);
      },
    };
  } catch (error) {
    stop();
    throw error;
  }
}

async function webKitValue(driver: WebDriver, expression: string): Promise<unknown> {
  const answer = (await driver.executeAsyncScript(
    `const done = arguments[arguments.length - 1];
     (async () => (${expression}))().then((value) => done({ value }), (error) => done({ error: String(error) }));`,
  )) as { value?: unknown; error?: string };
  if (answer.error !== undefined) throw new Error(answer.error);
  return answer.value;
}

async function profileFor(options: LaunchOptions) {
  const own = options.userDataDir === undefined;
  const path = options.userDataDir ?? (await mkdtemp(join(tmpdir(), 'counterturn-')));
  return {
    path,
    remove: async () => own && rm(path, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }),
  };
}

/** A signal to the browser that runs on a profile and to all the processes it started. */
export async function signalGroup(profile: string, signal: NodeJS.Signals): Promise<void> {
  let reached = 0;
  for (const pid of (await readdir('/proc')).filter((name) => /^\d+$/.test(name))) {
    const words = (await readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => '')).split('\0');
    // Helpers name the profile too, some of them; only the browser itself has no type and leads the group.
    const own =
      words.includes(`--user-data-dir=${profile}`) || (words.includes('--profile') && words.includes(profile));
    if (!own || words.some((word) => word.startsWith('--type=') || word === '-contentproc')) continue;
    const group = (await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => '')).split(') ')[1]?.split(' ')[2];
    if (group !== pid) continue;
    process.kill(-Number(pid), signal);
    reached++;
  }
  if (reached !== 1) throw new Error(`expected one browser on the profile, ${signal} reached ${reached}`);
}

function firstLine(stream: NodeJS.ReadableStream): Promise<string> {
  return new Promise((done, fail) => {
    let text = '';
    stream.on('data', (chunk) => {
      text += String(chunk);
      if (text.includes('\n')) done(text.split('\n', 1)[0]!);
    });
    stream.once('end', () => fail(new Error('The virtual screen did not start')));
  });
}

function freePort(): Promise<number> {
  return new Promise((done, fail) => {
    const probe = createServer().once('error', fail);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => (address && typeof address === 'object' ? done(address.port) : fail(new Error('no port'))));
    });
  });
}

async function listening(port: number) {
  const end = Date.now() + patienceMs;
  for (;;) {
    const answers = await fetch(`http://127.0.0.1:${port}/status`).then(
      () => true,
      () => false,
    );
    if (answers) return;
    if (Date.now() > end) throw new Error('The WebKit driver did not answer');
    await new Promise((done) => setTimeout(done, 50));
  }
}
