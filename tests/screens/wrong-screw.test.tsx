/** A wrong call is noticed most often when the screw has just come out: two touches put it right then, too. */
import { cleanup } from '@solidjs/testing-library';
import { afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { opening, room, steadyFingers, w } from './rooms.harness.tsx';
import { drafts, listed, moved, second } from './second.harness.tsx';

beforeAll(async () => {
  await loadDeferred();
  await loadDeferred();
}, 60_000);
beforeEach(steadyFingers);
afterEach(cleanup);

const screws = ['1', '2', '3'].map((id) => listed(id));
const first: EntryDraft[] = [opening, ...screws, { type: 'work-started' }];
const out: EntryDraft[] = [{ type: 'screw-called', screw: '1' }, ...moved('turn-out', 'out')];

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

it('of a screw that was put off is not asked either: it is called again', async () => {
  const then: EntryDraft[] = [...moved('turn-out', 'no-change'), { type: 'deferred', screw: '1' }];
  const at = await room(Table, { drafts: drafts({ screws, then }), parts: second });
  await at.touch(/^1 .*screw/);
  expect(document.querySelector('.table-sheet')).toBeNull();
  expect(at.entries().at(-1)).toMatchObject({ type: 'screw-called', screw: '1' });
});
