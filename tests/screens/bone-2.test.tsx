/** The bone picture under the second ladder: nothing of a level that is not modelled, and what only an eye can tell is asked. */
import { cleanup } from '@solidjs/testing-library';
import { afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { fetchReleases } from '../../content/later.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { messagesOf } from '../../src/format/messages.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { opening, room, steadyFingers } from './rooms.harness.tsx';

await fetchReleases();
const content = loadContent('2026.2-draft') as Content;
const w = messagesOf(content);

beforeAll(async () => {
  await loadDeferred();
  await loadDeferred();
}, 60_000);
beforeEach(steadyFingers);
afterEach(cleanup);

const screwIn = (screw: string): EntryDraft => ({
  ...({ type: 'screw-listed', screw, diameter: 4.5, thread: 'cortical', locking: false, drive: 'hexagonal' } as const),
  ...({ material: 'steel', length: 36, cortices: 2, stage: 'fragment-retained', underPlate: false } as const),
});
const boneOf = async (then: EntryDraft[]) => {
  const at = await room(Table, {
    drafts: [
      opening,
      { type: 'bone-measured', outer: 27, cortex: 5, source: 'measured' },
      ...['1', '2'].map(screwIn),
      { type: 'work-started' },
      { type: 'screw-called', screw: '1' },
      ...then,
    ],
    parts: { pin: () => ({ contentVersion: '2026.2-draft' }) },
  });
  await at.touch(w('table.more'));
  await at.touch(w('more.bone'));
  return at;
};
const shares = () =>
  (document.querySelector('.bone-full')?.textContent ?? '').replace(/\s/g, ' ').match(/\d+ %/g) ?? [];
/** Of the two limits, which stand on their ruler whatever the bone is like. */
const limits = ['20 %', '30 %'];

it('draws the share of each level that is modelled, and none once the bone broke', async () => {
  await boneOf([]);
  expect(shares().filter((share) => !limits.includes(share))).not.toEqual([]);
  cleanup();
  await boneOf([{ type: 'event', kind: 'bone-broke' }]);
  expect(shares().filter((share) => !limits.includes(share))).toEqual([]);
});

it('asks whether two long openings meet, and takes either word', async () => {
  const window = (screw: string): EntryDraft[] => [
    { type: 'screw-called', screw },
    { type: 'move-started', screw, move: 'window', bores: [{ wall: 'near', diameter: 8, length: 20 }] },
    { type: 'move-ended', screw, outcome: 'no-change', bores: [{ wall: 'near', diameter: 8, length: 20 }] },
  ];
  const at = await boneOf([...window('1'), ...window('2')]);
  const asked = document.querySelector(`[aria-label="${w('pictures.openings-meet', { screw: '1' })}"]`);
  expect(asked).not.toBeNull();
  await at.touch(w('word.no'));
  expect(at.entries().at(-1)).toMatchObject({ type: 'found', openingsMeet: false });
});
