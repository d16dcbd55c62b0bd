/** A wrong call is noticed most often when the screw has just come out: two touches put it right then, too. */
import { cleanup } from '@solidjs/testing-library';
import { afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { content, opening, room, steadyFingers } from './rooms.harness.tsx';
import { messagesOf } from '../../src/format/messages.ts';

const w = messagesOf(content);

beforeAll(async () => {
  await loadDeferred();
  await loadDeferred();
}, 60_000);
beforeEach(steadyFingers);
afterEach(cleanup);

const listed = (screw: string): EntryDraft => ({
  ...({ type: 'screw-listed', screw, diameter: 4.5, thread: 'cortical', locking: false, drive: 'hexagonal' } as const),
  ...({ material: 'steel', length: 36, cortices: 2 } as const),
});
const first = [opening, ...['1', '2', '3'].map(listed), { type: 'work-started' }] as const;
const out: EntryDraft[] = [
  { type: 'screw-called', screw: '1' },
  { type: 'move-started', screw: '1', move: 'turn-out' },
  { type: 'move-ended', screw: '1', outcome: 'out' },
];

it('goes over to the screw that it was, with all that was told of it since it was called', async () => {
  const at = await room(Table, { drafts: [...first, ...out] });
  const before = at.entries().length;
  await at.touch(/^1 .*screw/);
  await at.touch(w('wrong.was', { screw: '2' }));
  expect(at.entries().slice(before)).toMatchObject([{ type: 'reassigned', entries: [before - 1, before], screw: '2' }]);
  expect(document.querySelector('.table-sheet')).toBeNull();
  const { screws } = at.app.view()!;
  expect([screws['1']?.stage, screws['2']?.stage]).toEqual(['seated', 'out']);
  expect(at.touches()).toBe(2);
});

it('of a screw that is out and was not called last is not asked', async () => {
  const other: EntryDraft[] = [{ type: 'screw-called', screw: '2' }];
  const at = await room(Table, { drafts: [...first, ...out, ...other] });
  await at.touch(/^1 .*screw/);
  expect(document.querySelector('.table-sheet')).toBeNull();
});
