/** Plate, nail and cap at the table: what is done on them, what holds them is asked first, and nothing is told of a plate where there is none. */
import { cleanup, screen } from '@solidjs/testing-library';
import { afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { view } from '../../machines/view.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { room, steadyFingers } from './rooms.harness.tsx';
import { content, drafts, listed, moved, second, w } from './second.harness.tsx';

beforeAll(async () => {
  await loadDeferred();
  await loadDeferred();
}, 60_000);
beforeEach(steadyFingers);
afterEach(cleanup);

const screws = ['1', '2'].map((id) => listed(id, { diameter: 5, material: 'titanium', length: 40 }));
const gone = (screw: string): EntryDraft[] =>
  moved('turn-out', 'out', { screw }, { recovered: 40, lengthHow: 'measured' });
const at = async (construct: 'nail' | 'plate', then: EntryDraft[] = []) => {
  const made = drafts({ screws, bone: null, tools: ['nail-extractor'], opened: { construct }, then });
  const table = await room(Table, { drafts: made, parts: second });
  await table.touch(w('table.more'));
  return table;
};
const partsAt = async (construct: 'nail' | 'plate', then: EntryDraft[] = []) => {
  const table = await at(construct, then);
  await table.touch(w('more.parts'));
  return table;
};
const foldedOf = (table: Awaited<ReturnType<typeof at>>) => fold(table.entries(), content, undefined, 2);
const viewOf = (table: Awaited<ReturnType<typeof at>>) => view(foldedOf(table));
/** What every entry has, and nobody touched. */
const own = ['n', 'at', 'logged', 'seal'];
const last = (table: Awaited<ReturnType<typeof at>>, count = 1) =>
  table
    .entries()
    .slice(-count)
    .map((entry) => Object.fromEntries(Object.entries(entry).filter(([field]) => !own.includes(field))));

it('tells of no plate in the case of a nail', async () => {
  await at('nail');
  expect(screen.queryByRole('button', { name: w('more.plate-off') })).toBeNull();
  cleanup();
  await at('plate');
  expect(screen.queryByRole('button', { name: w('more.plate-off') })).not.toBeNull();
});

it('seats the extractor before the last bolt is out, and passes nothing over by it', async () => {
  const table = await partsAt('nail');
  await table.touch(w('parts.move.seat-extractor'));
  await table.touch(w('parts.sits'));
  expect(last(table)).toEqual([{ type: 'checked', what: 'extractor-on' }]);
  await table.touch(w('table.more'));
  await table.touch(w('more.parts'));
  await table.touch(w('parts.move.seat-extractor'));
  await table.touch(w('parts.outcome.no-change'));
  expect(foldedOf(table).unanswered).toEqual([]);
});

it('asks what still holds the nail before it is hammered, in numbers or in words, and asks once', async () => {
  const table = await partsAt('nail', gone('1'));
  await table.touch(w('parts.move.hammer-nail'));
  expect(screen.queryByRole('button', { name: w('parts.outcome.moving') })).toBeNull();
  await table.touch(w('hold.go-on-because', { reason: 'no image to count on' }));
  await table.touch(w('parts.outcome.moving'));
  expect(last(table, 2)).toEqual([
    { type: 'hold-answered', hold: 'still-fixed', answer: 'go-on', reason: 'no image to count on' },
    { type: 'part-move', part: 'nail', move: 'hammer-nail', outcome: 'moving' },
  ]);
  await table.touch(w('table.more'));
  await table.touch(w('more.parts'));
  await table.touch(w('parts.move.hammer-nail'));
  await table.touch(w('parts.outcome.out'));
  expect(foldedOf(table).unanswered).toEqual([]);
  expect(viewOf(table).parts.nail).toMatchObject({ end: 'out' });
});

it('asks it of a bolt without a head, too: its shank goes through the nail', async () => {
  const table = await partsAt('nail', [
    ...gone('1'),
    { type: 'screw-called', screw: '2' },
    ...moved('drill-head-off', 'head-sheared', { screw: '2' }),
  ]);
  await table.touch(w('parts.move.hammer-nail'));
  expect(screen.queryByRole('button', { name: w('parts.outcome.out') })).toBeNull();
  await table.touch(w('hold.go-on-because', { reason: "on the surgeon's word" }));
  expect(last(table)).toMatchObject([{ hold: 'still-fixed', answer: 'go-on' }]);
});

it('goes no further on the word stop, and asks nothing of a nail whose bolts are out', async () => {
  const stopped = await partsAt('nail', gone('1'));
  await stopped.touch(w('parts.move.hammer-nail'));
  await stopped.touch(w('answer.stop'));
  expect(last(stopped)).toEqual([{ type: 'hold-answered', hold: 'still-fixed', answer: 'stop' }]);
  cleanup();
  const free = await partsAt('nail', [...gone('1'), { type: 'screw-called', screw: '2' }, ...gone('2')]);
  await free.touch(w('parts.move.hammer-nail'));
  await free.touch(w('parts.outcome.no-change'));
  expect(last(free)).toEqual([{ type: 'part-move', part: 'nail', move: 'hammer-nail', outcome: 'no-change' }]);
});

it('lists the cap with the first word on it, and does not take the nail for out with it', async () => {
  const table = await partsAt('nail');
  await table.touch(w('parts.move.cap-off'));
  await table.touch(w('parts.outcome.out'));
  expect(last(table, 2)).toEqual([
    { type: 'part-listed', part: 'end-cap', kind: 'end-cap' },
    { type: 'part-move', part: 'end-cap', move: 'cap-off', outcome: 'out' },
  ]);
  expect(viewOf(table).parts).toMatchObject({ nail: { end: null }, 'end-cap': { end: 'out' } });
});

it('asks which tool broke, and takes not known for an answer', async () => {
  const table = await partsAt('nail');
  await table.touch(w('parts.move.hook-from-below'));
  await table.touch(w('parts.outcome.tool-broke'));
  await table.touch(content.phrases.tools['nail-extractor'].label);
  expect(last(table)[0]).toMatchObject({ outcome: 'tool-broke', tool: 'nail-extractor' });
  expect(viewOf(table).holds).toEqual(['find-tip']);
});

it('asks of each screw whether it came out with a plate that was levered off; the rest stays in', async () => {
  const table = await partsAt('plate');
  await table.touch(w('parts.move.lever-plate'));
  await table.touch(w('hold.go-on-because', { reason: 'levered off with the screw in it on purpose' }));
  await table.touch(w('parts.outcome.out'));
  expect(document.querySelector('.table-sheet h2')?.textContent).toBe(w('more.parts'));
  await table.touch(w('parts.screw-came', { screw: '2' }));
  await table.touch(w('parts.rest-still-in'));
  const { screws, parts } = viewOf(table);
  expect([screws['1']?.stage, screws['2']?.stage, parts.plate?.end]).toEqual(['seated', 'out', 'out']);
  expect(screws['2']?.metal.closes).toBe('assumed');
});

it('does not ask of a screw whose head is gone whether it came out whole', async () => {
  const table = await partsAt('plate', moved('drill-head-off', 'head-sheared'));
  await table.touch(w('parts.move.lever-plate'));
  await table.touch(w('hold.go-on-because', { reason: 'levered off with the screw in it on purpose' }));
  await table.touch(w('parts.outcome.out'));
  expect(screen.queryByRole('button', { name: w('parts.screw-came', { screw: '1' }) })).toBeNull();
  expect(screen.queryByRole('button', { name: w('parts.screw-came', { screw: '2' }) })).not.toBeNull();
});

it('counts both numbers or none, and stands while they differ', async () => {
  const table = await partsAt('nail', [...gone('1'), { type: 'screw-called', screw: '2' }]);
  await table.touch(w('parts.move.hammer-nail'));
  expect(screen.getByRole('button', { name: new RegExp(w('pause.counted')) }).getAttribute('aria-disabled')).toBe(
    'true',
  );
});
