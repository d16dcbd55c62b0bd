/** Where the browser engines and helper programs are on this machine. Node built-ins only: runs before `npm ci`. */
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync, readdirSync } from 'node:fs';
import { delimiter, join } from 'node:path';

/**
 * The first of the named programs that stands on the PATH and may be executed.
 * @param {...string} names program names, in order of preference
 * @returns {string | null} full path, or null when none is there. Worked result: `which('nonesuch', 'node')` ends in `node`.
 */
export function which(...names) {
  for (const name of names) {
    for (const folder of (process.env.PATH ?? '').split(delimiter).filter(Boolean)) {
      const file = join(folder, name);
      try {
        accessSync(file, constants.X_OK);
        return file;
      } catch {
        continue;
      }
    }
  }
  return null;
}

/**
 * A Chromium that answers `--version`. Some distributions put a stub on the PATH that only says how to install one.
 * The environment variable CHROMIUM comes first.
 * @returns {string | null} full path, or null
 */
export function findChromium() {
  const candidates = [process.env.CHROMIUM, which('chromium'), which('chromium-browser'), which('google-chrome')];
  return (
    candidates.find(
      (file) => file && spawnSync(file, ['--version'], { timeout: 20_000, stdio: 'ignore' }).status === 0,
    ) ?? null
  );
}

/** A stock Firefox. @returns {string | null} full path, or null */
export function findFirefox() {
  return which('firefox-esr', 'firefox');
}

/**
 * WebKitGTK: its driver, its small browser (not on the PATH: it lies in the library's folder) and a virtual screen.
 * @returns {{ driver: string, browser: string, screen: string } | null} full paths, or null when one of them is missing
 */
export function findWebKit() {
  const driver = which('WebKitWebDriver');
  const screen = which('Xvfb');
  const browser = miniBrowsers()[0];
  return driver && screen && browser ? { driver, browser, screen } : null;
}

function miniBrowsers() {
  const roots = ['/usr/lib', '/usr/libexec', ...subfolders('/usr/lib')];
  const folders = roots.flatMap((root) => subfolders(root).filter((name) => /\/webkit2?gtk-[\d.]+$/.test(name)));
  return folders.map((folder) => join(folder, 'MiniBrowser')).filter((file) => existsSync(file));
}

function subfolders(root) {
  if (!existsSync(root)) return [];
  return readdirSync(root, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => join(root, entry.name));
}
