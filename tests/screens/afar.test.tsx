/** What the surgeon and a wall read: the question of the hold that stands, pictures where a wall is wide; a long plate. */
import { cleanup, screen } from '@solidjs/testing-library';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import type { CaseState } from '../../machines/view.types.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { glancePage, type GlancePage } from '../../src/screens/glance-page.ts';
import { linesSize } from '../../src/screens/Glance.tsx';
import { Table } from '../../src/screens/table/Table.tsx';
import { room, steadyFingers } from './rooms.harness.tsx';
import { content, drafts, listed, moved, second, w, type Case } from './second.harness.tsx';

beforeAll(async () => {
  await loadDeferred();
  await loadDeferred();
}, 60_000);
beforeEach(steadyFingers);
afterEach(cleanup);

const atTable = (made: Case = {}) => room(Table, { drafts: drafts(made), parts: second });

/** Two moves on screw 1 that brought nothing. */
const twice: EntryDraft[] = [
  ...moved('turn-out', 'slipped', { tool: 'driver-hexagonal' }),
  { type: 'reassessed', screw: '1', checks: {} },
  ...moved('grip-head', 'no-change', { tool: 'head-gripper' }),
];

describe('whether a second surgeon is called', () => {
  it('is asked of the surgeon too, with the call, the first move, and letting it stay', async () => {
    const at = await atTable({
      then: twice,
    });
    const view = at.app.view() as CaseState;
    expect(view.screws['1']?.holds).toContain('second-surgeon');
    const page = glancePage(view, content, w, 'LEFT', []);
    const moves = view.screws['1']?.offered.filter(({ move }) => move !== 'leave-in') ?? [];
    expect(page).toMatchObject({ state: 'LEFT 1 stripped', question: 'Second surgeon?', more: moves.length - 1 });
    expect(page.options.map(({ number, act }) => [number, act.kind])).toEqual([
      ...[
        [null, 'call'],
        [1, 'start'],
      ],
      [0, 'leave'],
    ]);
  });

  it('is no question any more once it was answered', async () => {
    const at = await atTable({
      then: [...twice, { type: 'colleague-called' }],
    });
    const page = glancePage(at.app.view() as CaseState, content, w, 'LEFT', []);
    expect(page.question).toBeUndefined();
    expect(page.options[0]).toMatchObject({ number: 1, act: { kind: 'start' } });
  });
});

describe('lines read from afar', () => {
  const page: GlancePage = {
    state: 'LEFT 3 stripped',
    say: '',
    options: [{ number: 1, label: 'pack foil', act: { kind: 'leave' } }],
    more: 0,
  };

  it('keep their size beside pictures on a wide wall, and not on a narrow one', () => {
    const [narrow, wide] = [370, 1000].map((width) => linesSize(page, 3, { width: width * 0.56, height: 400 }));
    expect(wide).toEqual(linesSize(page, 3, { width: 1000, height: 400 }));
    expect(narrow?.arcminutes).toBeLessThan(wide?.arcminutes ?? 0);
  });
});

describe('a plate of fourteen screws', () => {
  const fourteen = Array.from({ length: 14 }, (_, i) => listed(String(i + 1)));

  it('is one touch that leads to all its screws, each of which is called from there', async () => {
    const at = await atTable({ screws: fourteen, called: '7' });
    // Four of them and the whole plate are touches; what the plate shows has no names of its own within it.
    expect(document.querySelectorAll('.map-tiles .map-touch').length).toBeLessThan(14);
    await at.touch(new RegExp(`^${w('map.all', { count: 14 })}`));
    const tiles = [...document.querySelectorAll('.screw-tiles .map-touch')];
    expect(tiles.map((tile) => tile.querySelector('b')?.textContent)).toEqual(fourteen.map((_, i) => String(i + 1)));
    await at.touch(/^13 seated: screw/);
    expect(at.entries().at(-1)).toMatchObject({ type: 'screw-called', screw: '13' });
    expect(screen.queryByText(w('table.call-one'))).toBeNull();
    expect(document.querySelector('.stage')?.textContent).toContain('13');
  });
});
