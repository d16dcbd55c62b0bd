/**
 * A plugin of the build: `third-party-notices.txt`, which names every package whose code or font the build ships, with
 * its version, its licence and the licence's text.
 */
import { readFileSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';

const packages = resolve(import.meta.dirname, '../../node_modules');

/** What the service worker is made of; it is made after the build, out of sight of its plugins. */
const ofWorker = ['workbox-core', 'workbox-precaching', 'workbox-routing', 'workbox-strategies'];
/** Helpers that the tools of the build put into the scripts themselves. */
const ofTools = ['rolldown', 'vite'];

/** Folder of the package that a module or file lies in, or null. `packageOf('…/node_modules/a/b.js')` ends in `a`. */
const packageOf = (path) => /^.*\/node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path.replaceAll('\\', '/'))?.[0] ?? null;

/**
 * @param {string} folder of a package
 * @throws Error when it names no licence or brings no text of it: such a package must not be shipped
 */
function noticeOf(folder) {
  const { name, version, license, licenses } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const licence = license ?? licenses?.map(({ type }) => type).join(' or ');
  const file = readdirSync(folder).find((entry) => /^(licen[cs]e|copying)(\.\w+)?$/i.test(entry));
  if (typeof licence !== 'string' || !licence || !file)
    throw new Error(`${name} ${version} is shipped and ${file ? 'names no licence' : 'brings no text of its licence'}`);
  const text = readFileSync(join(folder, file), 'utf8').replaceAll('\r\n', '\n').trim();
  return { name, heading: `${name} ${version} (${licence})`, text };
}

/**
 * @returns {{ plugin: import('vite').Plugin, ofThread: () => import('vite').Plugin }} the plugin, and one for the builds
 *   of threads, whose packages it names too
 */
export function notices() {
  /** @type {Set<string>} */
  const folders = new Set();
  const collect = (bundle) => {
    for (const part of Object.values(bundle))
      for (const path of part.type === 'chunk' ? part.moduleIds : part.originalFileNames) {
        const folder = packageOf(resolve(packages, '../src', path.replace(/^\0/, '').replace(/\?.*$/, '')));
        if (folder) folders.add(folder);
      }
  };
  return {
    ofThread: () => ({ name: 'notices-of-thread', generateBundle: (_, bundle) => collect(bundle) }),
    plugin: {
      name: 'notices',
      apply: 'build',
      generateBundle(_, bundle) {
        collect(bundle);
        for (const name of [...ofWorker, ...ofTools]) folders.add(join(packages, name));
        const all = [...folders].map(noticeOf).sort((a, b) => (a.name < b.name ? -1 : 1));
        const rule = '-'.repeat(80);
        const source = [
          'Counterturn ships code and fonts of these packages.',
          all.map(({ heading }) => heading).join('\n'),
          ...all.map(({ heading, text }) => `${rule}\n${heading}\n\n${text}`),
        ].join('\n\n');
        this.emitFile({ type: 'asset', fileName: 'third-party-notices.txt', source: `${source}\n` });
      },
    },
  };
}
