/** The screens of a case under 2026.2 say what the release says: LEFT is a side, metal stays. */
import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { cleanup, screen } from '@solidjs/testing-library';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Component } from 'solid-js';
import { loadContent } from '../../content/catalog.ts';
import { fetchReleases } from '../../content/later.ts';
import { loadLanguage } from '../../content/languages.ts';
import { currentVersion } from '../../content/releases/index.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { messagesOf } from '../../src/format/messages.ts';
import { doingOf } from '../../src/record/locales/en/entries.ts';
import { Glance } from '../../src/screens/Glance.tsx';
import { Closing } from '../../src/screens/Closing.tsx';
import { Table } from '../../src/screens/table/Table.tsx';
import { opening, room, steadyFingers } from './rooms.harness.tsx';

await fetchReleases();
await loadLanguage('de');
const english = loadContent('2026.2-draft', 'en') as Content;
const older = loadContent(currentVersion, 'en') as Content;
const german = loadContent('2026.2-draft', 'de') as Content;
const [first, second] = [older, english].map(messagesOf);

beforeAll(async () => {
  await loadDeferred();
  await loadDeferred();
}, 60_000);
beforeEach(steadyFingers);
afterEach(cleanup);

const measured: EntryDraft = { type: 'bone-measured', outer: 27, cortex: 5, source: 'measured' };
const slipped: EntryDraft[] = [
  { type: 'move-started', screw: '1', move: 'turn-out' },
  { type: 'move-ended', screw: '1', outcome: 'slipped' },
  { type: 'reassessed', screw: '1', checks: {} },
];
const drafts: EntryDraft[] = [
  { ...opening },
  measured,
  {
    type: 'screw-listed',
    screw: '1',
    diameter: 4.5,
    thread: 'cortical',
    locking: false,
    drive: 'hexagonal',
    material: 'steel',
    length: 36,
    cortices: 2,
  },
  ...older.ids.tools.map((tool): EntryDraft => ({ type: 'tool-in-room', tool, present: true })),
  { type: 'work-started' },
  { type: 'screw-called', screw: '1' },
  ...slipped,
];
const shown = (Screen: Component, contentVersion: string) =>
  room(Screen, { drafts, parts: { pin: () => ({ contentVersion }) } });
const text = () => document.body.textContent ?? '';

describe('the words of 2026.2 on the screens', () => {
  it('let metal stay: LEFT is a side alone', async () => {
    const at = await shown(Table, '2026.2-draft');
    const seen = [text()];
    for (const [touch, back] of [
      ['Let it stay', 'Back'],
      ['More', 'Back'],
    ] as const) {
      await at.touch(new RegExp(`^${touch}`));
      seen.push(text());
      await at.touch(back);
    }
    for (const Screen of [Glance, Closing]) {
      cleanup();
      await shown(Screen, '2026.2-draft');
      seen.push(text());
    }
    expect(seen.join(' ')).toContain('LEFT');
    for (const said of seen) {
      expect(said.match(/.{0,20}\bleft\b(?!-hand).{0,20}/g)).toBeNull();
      expect(said.match(/.{0,20}\b[Ll]eave it in\b.{0,20}/)).toBeNull();
    }
  });

  it('name the screw with its word, and keep the old ones for the first ladder', async () => {
    await shown(Table, '2026.2-draft');
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe('Screw 1: stripped');
    expect(text()).toContain('cortex lost');
    cleanup();
    await shown(Table, currentVersion);
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe('1 stripped');
    expect(screen.getByRole('button', { name: /^Leave it in/ })).toBeTruthy();
    expect(text()).not.toContain('cortex lost');
  });

  it('say of a chance what it is a share of', () => {
    expect(second?.('table.slips', { count: 2, share: 25 })).toContain('25 % of the chance');
    expect(first?.('table.slips', { count: 2, share: 25 })).toContain('25 % left');
  });
});

const folder = resolve(import.meta.dirname, '../../content');

describe('what a release says in its own words', () => {
  const build = Object.assign(
    {},
    ...readdirSync(resolve(folder, 'words/en')).map(
      (file) => JSON.parse(readFileSync(resolve(folder, 'words/en', file), 'utf8')) as object,
    ),
  ) as Record<string, string>;
  const raw = (language: string) =>
    JSON.parse(readFileSync(resolve(folder, `2026.2/phrases.${language}.json`), 'utf8')) as {
      words: Record<string, string>;
    };
  /** Words of the trade that every release has, by no key of a screen. */
  const ofRelease = new Set(Object.keys(older.phrases.words));
  const own = Object.keys(raw('en').words).filter((key) => key in build);

  it('stands in the place of the words of the build, in German too', () => {
    expect(own.length).toBeGreaterThan(30);
    for (const key of own) {
      expect(english.phrases.words[key], key).toBe(raw('en').words[key]);
      expect(german.phrases.words[key], key).toBe(raw('de').words[key]);
    }
  });

  it('has a screen that says it: each is a key of the build, of every release, or the line of a slip', () => {
    const stray = Object.keys(raw('en').words).filter((key) => !(key in build) && !ofRelease.has(key));
    expect(stray).toEqual(['slip-line']);
  });

  it('has the places of the words it stands for', () => {
    const places = (phrase: string) => (phrase.match(/\{\w+\}/g) ?? []).sort().join();
    expect(own.filter((key) => places(raw('en').words[key] ?? '') !== places(build[key] ?? ''))).toEqual([]);
  });
});

describe('the record', () => {
  it('calls a tool as the release does', () => {
    expect(doingOf(english, 'reverse-tap')).toContain('left-hand tap');
    expect(doingOf(older, 'reverse-tap')).toContain('reverse-thread tap');
  });
});
