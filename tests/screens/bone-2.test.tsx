/** The bone picture under the second ladder: nothing of a level that is not modelled, and what only an eye can tell is asked. */
import { cleanup } from '@solidjs/testing-library';
import { afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { room, steadyFingers } from './rooms.harness.tsx';
import { drafts, listed, moved, second, w } from './second.harness.tsx';

beforeAll(async () => {
  await loadDeferred();
  await loadDeferred();
}, 60_000);
beforeEach(steadyFingers);
afterEach(cleanup);

const screws = ['1', '2'].map((id) => listed(id, { stage: 'fragment-retained', underPlate: false }));
const boneOf = async (then: EntryDraft[]) => {
  const at = await room(Table, { drafts: drafts({ screws, tools: [], then }), parts: second });
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
  const bores = [{ wall: 'near', diameter: 8, length: 20 }] as const;
  const window = (screw: string): EntryDraft[] => [
    { type: 'screw-called', screw },
    ...moved('window', 'no-change', { screw, bores: [...bores] }, { bores: [...bores] }),
  ];
  const at = await boneOf([...window('1'), ...window('2')]);
  const asked = document.querySelector(`[aria-label="${w('pictures.openings-meet', { screw: '1' })}"]`);
  expect(asked).not.toBeNull();
  await at.touch(w('word.no'));
  expect(at.entries().at(-1)).toMatchObject({ type: 'found', openingsMeet: false });
});
