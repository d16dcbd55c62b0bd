/** Which tool a move is made with goes by the ladder of the case: where the two differ, the table follows its own. */
import { cleanup } from '@solidjs/testing-library';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { capital } from '../../src/format/prose.ts';
import { readiness } from '../../machines/readiness.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { room, steadyFingers } from './rooms.harness.tsx';
import { drafts, listed, phrases, second, w, type Case } from './second.harness.tsx';

beforeAll(async () => {
  await loadDeferred();
  await loadDeferred();
}, 60_000);
beforeEach(steadyFingers);
afterEach(cleanup);

const here = (tool: Extract<EntryDraft, { type: 'tool-in-room' }>['tool'], more: object = {}): EntryDraft => ({
  ...({ type: 'tool-in-room', tool, present: true } as const),
  ...more,
});
const at = (made: Case) => room(Table, { drafts: drafts({ tools: [], ...made }), parts: second });

describe('the tool of a move', () => {
  it('is no driver of another form that is narrower than the recess: one is left, and nobody is asked which', async () => {
    const screws = [listed('1', { stage: 'recess-stripped', driveSize: 3.5 })];
    // A six-lobe driver of size 10 is 2.8 mm wide, the recess 3.5 mm.
    const then = [here('driver-hexagonal', { size: 4 }), here('driver-hexalobular', { size: 10 }), here('mallet')];
    const table = await at({ screws, then });
    await table.touch(new RegExp(`^\\d.*${capital(phrases.moves['drive-oversize'].glance)}`));
    expect(table.entries().at(-1)).toMatchObject({
      ...{ type: 'move-started', move: 'drive-oversize', tool: 'driver-hexagonal' },
    });
  });

  it('is the one that goes with the screw on the sheet about the move, too', async () => {
    const screws = [listed('1', { stage: 'recess-stripped', driveSize: 3.5 })];
    const then = [here('driver-hexalobular', { size: 10 }), here('driver-hexagonal', { size: 4 }), here('mallet')];
    const table = await at({ screws, then });
    await table.touch(w('table.about-moves'));
    await table.touch(new RegExp(capital(phrases.moves['drive-oversize'].glance)));
    const sheet = document.querySelector('.table-sheet')?.textContent ?? '';
    expect(sheet).toContain(w('about.here', { tool: phrases.tools['driver-hexagonal'].label }));
    expect(sheet).not.toContain(phrases.tools['driver-hexalobular'].label);
  });

  it('is no driver that is missing where its form has no sizes', async () => {
    const screws = [listed('1', { drive: 'cruciform', driveSize: 3 })];
    const table = await at({ screws, then: [here('driver-cruciform', { size: 2 })] });
    const open = table.app.open();
    if (!open) throw new Error('no case is open');
    expect(table.app.view()?.screws['1']?.offered.map(({ move }) => move)).toContain('turn-out');
    const ready = readiness(open.folded);
    expect([...ready.deadEnds, ...ready.cannotSay].filter(({ stage }) => stage === 'seated')).toEqual([]);
  });
});
