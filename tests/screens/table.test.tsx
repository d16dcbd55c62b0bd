import { cleanup, screen } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { ToolId } from '../../content/ids.ts';
import type { EntryDraft, Entry } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { sourceWords } from '../../src/screens/source-words.ts';
import { capital } from '../../src/format/prose.ts';
import { sayEntry } from '../../src/screens/table/said.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { content, opening, room, steadyFingers, w } from './rooms.harness.tsx';

beforeEach(steadyFingers);
afterEach(cleanup);

const listed = (screw: string): EntryDraft => ({
  type: 'screw-listed',
  screw,
  diameter: 4.5,
  thread: 'cortical',
  locking: false,
  drive: 'hexagonal',
  material: 'steel',
  length: 36,
  cortices: 2,
});
const bring = (tool: ToolId): EntryDraft => ({ type: 'tool-in-room', tool, present: true });
const slipped = (screw: string): EntryDraft[] => [
  { type: 'screw-called', screw },
  { type: 'move-started', screw, move: 'turn-out' },
  { type: 'move-ended', screw, outcome: 'slipped' },
];

describe('looking again', () => {
  it('begins unchecked on every screw: what was seen on one is not recorded of another', async () => {
    const before: EntryDraft[] = [opening, listed('1'), listed('2'), { type: 'work-started' }];
    const at = await room(Table, { drafts: [...before, ...slipped('1'), ...slipped('2')] });
    await at.touch(w('check.recessCleared'));
    await at.touch(w('check.freshDriver'));
    await at.touch(/^1 .*: screw/);
    await at.touch(w('check.inLine'));
    await at.touch(w('hold.looked'));
    const last = at.entries().at(-1);
    expect(last).toMatchObject({ type: 'reassessed', screw: '1' });
    expect(last).toHaveProperty('checks', { inLine: true });
  });
});

describe('a screw that came out', () => {
  const came = async () => {
    const at = await room(Table, {
      drafts: [opening, listed('1'), bring('driver-hexagonal'), { type: 'work-started' }],
    });
    await at.app.session.record({ type: 'screw-called', screw: '1' });
    await at.touch(new RegExp(capital(content.phrases.moves['turn-out'].glance)));
    await at.touch(new RegExp(`${content.phrases.outcomes.out.label}`));
    return at;
  };
  const told = () => document.querySelector('.stage')?.textContent;
  const whole = w('length.whole', { length: 36 });

  it('is no longer told as out once its end is struck', async () => {
    const at = await came();
    expect(told()).toBe(w('table.out', { screw: '1' }));
    await at.app.session.record({ type: 'struck', entry: at.entries().length, reason: 'mistap' });
    await at.app.session.record({ type: 'left-in', screw: '1', length: null, where: 'near', reason: 'too deep' });
    expect(told()).toBe(w('table.all-ended'));
    expect(told()).not.toBe(w('table.out', { screw: '1' }));
    expect(screen.queryByText(whole)).toBeNull();
  });

  it('keeps the question for its length until the answer is on disk', async () => {
    const at = await came();
    const before = at.entries().length;
    vi.spyOn(at.app.session, 'record').mockResolvedValueOnce({
      ok: false,
      reason: { code: 'other', detail: 'disk full' },
    });
    await at.touch(whole);
    expect([at.entries().length, screen.queryByText('disk full') !== null]).toEqual([before, true]);
    vi.spyOn(at.app.session, 'record').mockResolvedValueOnce({
      ok: false,
      reason: { code: 'other', detail: 'disk full' },
    });
    await at.touch(/^1 .*: screw/);
    expect(told()).toBe(w('table.out', { screw: '1' }));
    await at.touch(whole);
    expect(at.entries().at(-1)).toMatchObject({ type: 'piece-recovered', screw: '1', length: 36 });
    expect(screen.queryByText(whole)).toBeNull();
  });
});

describe('a strike', () => {
  const two: EntryDraft[] = [opening, listed('1'), { type: 'work-started' }, { type: 'screw-called', screw: '1' }];

  it('asks in the place of the list, about the entry in words, and begins without an earlier reason', async () => {
    const at = await room(Table, { drafts: [...two, { type: 'remark', text: 'first thought' }] });
    await at.touch(new RegExp(`^${w('table.more')}`));
    await at.touch(w('more.log'));
    await at.touch(w('log.strike-which', { n: 5 }));
    expect(document.querySelector('.log')).toBeNull();
    expect(document.querySelector('.log-strike')?.textContent).toContain('first thought');
    const box = () => screen.getByLabelText<HTMLTextAreaElement>(w('log.other-reason'));
    box().value = 'said of another';
    box().dispatchEvent(new InputEvent('input', { bubbles: true }));
    await at.touch(w('log.keep'));
    await at.touch(w('log.strike-which', { n: 4 }));
    expect(box().value).toBe('');
    await at.touch(w('log.reason.mistap'));
    expect(at.entries().at(-1)).toMatchObject({ type: 'struck', entry: 4, reason: w('log.reason.mistap') });
    expect(document.querySelectorAll('.log li')).toHaveLength(6);
  });

  it('is of now, whatever time the next entry is to have', async () => {
    const at = await room(Table, { drafts: two });
    await at.touch(new RegExp(`^${w('table.more')}`));
    await at.touch(w('more.when'));
    await at.touch(w('when.ago', { minutes: 5 }));
    await at.touch(new RegExp(`^${w('table.more')}`));
    await at.touch(w('more.log'));
    await at.touch(w('log.strike-which', { n: 4 }));
    await at.touch(w('log.reason.mistap'));
    const { at: happened, logged } = at.entries().at(-1) as Entry;
    expect(Date.parse(logged) - Date.parse(happened)).toBeLessThan(60_000);
  });
});

describe('news of a tool', () => {
  it('offers first what the called screw wants, and takes the last of a kind out of the room', async () => {
    const drafts: EntryDraft[] = [opening, listed('1'), bring('pick'), { type: 'work-started' }];
    const at = await room(Table, { drafts: [...drafts, { type: 'screw-called', screw: '1' }] });
    const sheet = async () => {
      await at.touch(w('table.more'));
      await at.touch(w('more.tool'));
    };
    const label = (tool: ToolId) => content.phrases.tools[tool].label;
    const offered = () =>
      [...document.querySelectorAll('.table-sheet .sheet-body > .choice-row > button')].map((one) => one.textContent);
    await sheet();
    expect(offered()[0]).toBe(label('driver-hexagonal'));
    await at.touch(label('driver-hexagonal'));
    expect(at.app.view()?.screws['1']?.offered.map(({ move }) => move)).toContain('turn-out');
    await sheet();
    await at.touch(w('tool.gone'));
    expect(offered()).toEqual([label('pick'), label('driver-hexagonal')]);
    await at.touch(label('driver-hexagonal'));
    expect(at.entries().at(-1)).toMatchObject({ type: 'tool-in-room', tool: 'driver-hexagonal', present: false });
    expect(at.app.view()?.screws['1']?.offered.map(({ move }) => move)).not.toContain('turn-out');
  });
});

describe('a pending move', () => {
  it('gives way to the cards when its start fails, so that a touch or a key starts it again', async () => {
    const at = await room(Table, {
      drafts: [
        opening,
        { ...listed('1'), stage: 'head-sheared' } as EntryDraft,
        bring('hollow-reamer'),
        bring('reversing-drive'),
        { type: 'work-started' },
        { type: 'screw-called', screw: '1' },
      ],
    });
    const reamer = new RegExp(capital(content.phrases.moves['hollow-ream'].glance));
    await at.touch(reamer);
    vi.spyOn(at.app.session, 'record').mockResolvedValueOnce({
      ok: false,
      reason: { code: 'other', detail: 'disk full' },
    });
    await at.touch(w('hold.reverse-yes'));
    expect(screen.getByText('disk full')).toBeTruthy();
    const number = at.app.view()?.screws['1']?.offered.findIndex(({ move }) => move === 'hollow-ream');
    window.dispatchEvent(new KeyboardEvent('keydown', { key: String((number ?? NaN) + 1) }));
    await at.touch(w('hold.reverse-yes'));
    expect(at.entries().at(-1)).toMatchObject({ type: 'move-started', move: 'hollow-ream', reverseConfirmed: true });
  });
});

describe('a look of one’s own accord', () => {
  const turnOut = new RegExp(capital(content.phrases.moves['turn-out'].glance));
  const noChange = new RegExp(content.phrases.outcomes['no-change'].label);

  it('opens turning out once more after it brought nothing, and only once', async () => {
    const drafts: EntryDraft[] = [opening, listed('1'), bring('driver-hexagonal'), { type: 'work-started' }];
    const at = await room(Table, { drafts: [...drafts, { type: 'screw-called', screw: '1' }] });
    expect(screen.queryByText(w('look.again'))).toBeNull();
    await at.touch(turnOut);
    await at.touch(noChange);
    expect(screen.queryByRole('button', { name: turnOut })).toBeNull();
    await at.touch(w('look.again'));
    await at.touch(w('table.back'));
    await at.touch(w('look.again'));
    await at.touch(w('check.fullySeated'));
    await at.touch(w('hold.looked'));
    expect(at.entries().at(-1)).toMatchObject({ type: 'reassessed', screw: '1', checks: { fullySeated: true } });
    await at.touch(turnOut);
    await at.touch(noChange);
    expect(screen.queryByText(w('look.again'))).toBeNull();
  });
});

describe('figures at the table', () => {
  it('of the chance after a slip and of torsion have their source and status one touch away [Z9]', async () => {
    const drafts: EntryDraft[] = [
      { ...opening, bone: 'tibia' },
      { type: 'bone-measured', outer: 24, cortex: 5, source: 'measured' },
      listed('1'),
      bring('driver-hexagonal'),
      { type: 'work-started' },
      ...slipped('1'),
      { type: 'reassessed', screw: '1', checks: {} },
    ];
    const at = await room(Table, { drafts });
    expect(document.querySelector('.stage-aside, .table-stage')?.textContent).toContain('50 %');
    await at.touch(w('card.why', { move: content.phrases.moves['reseat-driver'].label }));
    const told = document.querySelector('.about')?.textContent ?? '';
    for (const source of [content.limits.slipKeeps.source, content.limits.torsionRate.source])
      expect(told).toContain(sourceWords(at.app, source));
    expect(sourceWords(at.app, content.limits.slipKeeps.source)).toContain(w('status.common-practice'));
  });
});

describe('an entry in words', () => {
  const start = (move: string) => ({ type: 'move-started', screw: '1', move });
  const ended = (outcome: string) => ({ type: 'move-ended', screw: '1', outcome });
  const before = [opening, listed('1'), { type: 'work-started' }];
  /** Strikes the row with this number of those given. */
  const strike = (row: number) => ({ type: 'struck', entry: before.length + row, reason: 'mistap' });
  /** The row with this number, or the last, in a case that is at work on screw 1. */
  const said = (rows: object[], n = rows.length) => {
    const time = '2026-03-04T09:00:00Z';
    const entries = [...before, ...rows].map((row, i) => ({ ...row, n: i + 1, at: time, logged: time }) as Entry);
    return sayEntry(entries[before.length + n - 1] as Entry, fold(entries, content));
  };
  const packed = said([start('pack-recess'), ended('set-up-done')]);

  it('tells the end of the move that stands, not of one begun later and struck', () => {
    const drilled = said([start('drill-head-off'), ended('set-up-done')]);
    expect(drilled).not.toBe(packed);
    const two = [start('drill-head-off'), ended('no-change'), start('pack-recess')];
    expect(said([...two, ended('set-up-done')])).toBe(packed);
    expect(said([...two, strike(2), strike(3), ended('set-up-done')])).toBe(drilled);
  });

  it('tells a struck end of the move it was recorded for', () => {
    expect(said([start('pack-recess'), ended('set-up-done'), strike(2), strike(1)], 2)).toBe(packed);
  });

  it('does not say "again" of a screw whose first listing was struck', () => {
    expect(said([listed('2'), strike(1), listed('2')])).toBe(said([listed('2')]));
    expect(said([listed('2'), listed('2')])).not.toBe(said([listed('2')]));
  });
});
