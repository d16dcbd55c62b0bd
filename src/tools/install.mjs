/**
 * Puts in place what the next command needs, and says nothing when all is there. Node built-ins only.
 * `node src/tools/install.mjs`            node packages, when the lock file changed since the last install
 * `node src/tools/install.mjs --browser`  also browser engines and pdftotext, with apt where the machine has it
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { findChromium, findFirefox, findWebKit, which } from './engines.mjs';

const root = resolve(import.meta.dirname, '../..');
const stamp = join(root, 'node_modules/.counterturn-lock');

/** What the browser tests use. `needed`: the tests of that engine are the ones that count; the others are extra engines. */
const programs = [
  { name: 'Chromium', needed: true, found: () => findChromium(), packages: ['chromium', 'fonts-dejavu-core'] },
  { name: 'pdftotext', needed: true, found: () => which('pdftotext'), packages: ['poppler-utils'] },
  { name: 'Firefox', needed: false, found: () => findFirefox(), packages: ['firefox-esr'] },
  { name: 'WebKitGTK', needed: false, found: () => findWebKit(), packages: ['webkit2gtk-driver', 'xvfb'] },
];

installPackages();
if (process.argv.includes('--browser')) installPrograms();

function installPackages() {
  const lock = createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === lock) return;
  console.log('Installing node packages (package-lock.json is new or has changed)');
  const windows = process.platform === 'win32';
  const { status } = spawnSync('npm', ['ci', '--include=dev'], { cwd: root, stdio: 'inherit', shell: windows });
  if (status !== 0) {
    console.error('npm ci failed: see above.');
    process.exit(1);
  }
  writeFileSync(stamp, lock);
}

function installPrograms() {
  const missing = programs.filter((program) => !program.found());
  if (missing.length === 0) return;
  const apt = aptCommand();
  if (apt) {
    console.log(`Installing with apt: ${missing.flatMap((program) => program.packages).join(' ')}`);
    apt('update');
    for (const { packages } of missing) apt('install', '-y', '--no-install-recommends', ...packages);
  }
  for (const { name, needed, packages } of missing.filter((program) => !program.found())) {
    const how = apt ? 'apt could not install it' : 'no apt here, or no rights to use it';
    const effect = needed
      ? 'its checks will be skipped; install it'
      : 'the extra checks in it will be skipped; to have them, install it';
    console.warn(`${name} is not on this machine (${how}): ${effect} by hand (Debian: ${packages.join(' ')}).`);
  }
}

/** A function that runs apt-get with the rights it needs, or null when there is no way to. A failure is printed, not thrown. */
function aptCommand() {
  const apt = which('apt-get');
  if (!apt) return null;
  const sudo = process.getuid?.() === 0 ? null : which('sudo');
  if (process.getuid?.() !== 0 && !sudo) return null;
  // Without a terminal nobody could type a password: -n makes sudo refuse instead of waiting for ever.
  const prefix = sudo ? [sudo, ...(process.stdin.isTTY ? [] : ['-n']), 'env'] : ['env'];
  return (...words) => {
    const options = ['-qq', '-o', 'Acquire::Retries=1', '-o', 'Acquire::http::Timeout=20', '-o', 'Dpkg::Use-Pty=0'];
    const [program, ...rest] = [...prefix, 'DEBIAN_FRONTEND=noninteractive', apt, ...options, ...words];
    // dpkg's hundreds of lines go nowhere; what went wrong still comes through on the error stream.
    return spawnSync(program, rest, { stdio: ['inherit', 'ignore', 'inherit'] }).status === 0;
  };
}
