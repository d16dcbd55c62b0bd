import { cleanup } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { ToolId } from '../../content/ids.ts';
import { view as viewOf } from '../../machines/view.ts';
import { capital } from '../../src/format/prose.ts';
import { Glance } from '../../src/screens/Glance.tsx';
import { glancePage } from '../../src/screens/glance-page.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { atTheTable } from '../machines/build.ts';
import { content, room, steadyFingers, w } from './rooms.harness.tsx';

beforeEach(steadyFingers);
afterEach(cleanup);

const tools: ToolId[] = ['driver-hexagonal', 'pick', 'mallet', 'metal-foil', 'conical-extractor', 't-handle'];
const stripped = () => {
  const log = atTheTable({ stage: 'recess-stripped' });
  for (const tool of tools) log.tool(tool);
  return log.write({ type: 'screw-called', screw: '1' });
};
describe('the surgeon’s page', () => {
  it('gives each move the number it has at the table, leaving in too, and no other [Z30]', async () => {
    const log = stripped();
    const drafts = log.entries.map(({ n: _n, at: _at, logged: _logged, ...draft }) => draft);
    await room(Table, { drafts });
    const table = new Map(
      [...document.querySelectorAll('.card')].map((card) => [
        card.querySelector('.card-title')?.textContent ?? '',
        card.querySelector('.card-number')?.textContent ?? '',
      ]),
    );
    const foot = document.querySelector('.table-foot .touch-consequential')?.textContent;
    cleanup();
    await room(Glance, { drafts });
    const shown = [...document.querySelectorAll('.glance-option')].map((one) => {
      const number = one.querySelector('.glance-number')?.textContent ?? '';
      return { number, label: (one.textContent ?? '').slice(number.length).trim() };
    });
    expect(table.size).toBeGreaterThan(2);
    const moves = shown.filter(({ label }) => table.has(label));
    expect(moves).toHaveLength(2);
    for (const { number, label } of moves) expect(number).toBe(table.get(label));
    const leave = shown.find(({ label }) => label === capital(content.phrases.moves['leave-in'].glance));
    expect(foot).toContain(`number ${leave?.number}`);
    expect(shown.find(({ label }) => label === capital(w('glance.call')))?.number).toBe('');
    expect(new Set(shown.map(({ number }) => number)).size).toBe(shown.length);
  });

  it('numbers the answers to a running move as the table does [Z30]', () => {
    const { folded } = stripped().begins('1', 'reseat-driver');
    const page = glancePage(viewOf(folded, folded.latest), content, w, 'LEFT', ['a', 'b', 'c', 'd']);
    expect(page.options.map(({ number, label }) => `${number} ${label}`)).toEqual(['1 a', '2 b', '3 c']);
    expect(page.more).toBe(1);
  });

  it('numbers nothing but leaving in while somebody has to look again [Z30]', () => {
    const { folded } = stripped().begins('1', 'reseat-driver').ends('1', 'slipped');
    const view = viewOf(folded, folded.latest);
    const page = glancePage(view, content, w, 'LEFT', []);
    const at = view.screws['1']?.offered.findIndex(({ move }) => move === 'leave-in') ?? NaN;
    expect(page.options.map(({ number }) => number)).toEqual([null, at + 1, null]);
  });
});
