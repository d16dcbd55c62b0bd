import { cleanup, screen } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { ToolId } from '../../content/ids.ts';
import type { EntryDraft, Entry } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { sourceWords } from '../../src/screens/source-words.ts';
import { capital } from '../../src/format/prose.ts';
import { sayEntry } from '../../src/screens/table/said.ts';
import { Closing } from '../../src/screens/Closing.tsx';
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

describe('a hold before a move', () => {
  it('gives way when other moves are asked for', async () => {
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
    await at.touch(new RegExp(capital(content.phrases.moves['hollow-ream'].glance)));
    expect(screen.getByText(w('hold.reverse-yes'))).toBeTruthy();
    await at.touch(w('table.closed-moves'));
    expect(screen.queryByText(w('hold.reverse-yes'))).toBeNull();
    expect(document.querySelector('.closed')).not.toBeNull();
    expect(at.entries().at(-1)?.type).toBe('screw-called');
  });
});

describe('going on past the upper limit of the bone', () => {
  const people = ['anaesthetist', 'surgeon', 'scrub'].map((role): EntryDraft => ({
    type: 'person-listed',
    role: role as 'surgeon',
    who: `${role} A`,
  }));
  const past = async (listedPeople: readonly EntryDraft[]) => {
    const at = await room(Table, {
      drafts: [
        { ...opening, bone: 'fibula' },
        ...listedPeople,
        { type: 'bone-measured', outer: 15, cortex: 3, source: 'measured' },
        { type: 'limits-set', boneConsider: 0.02, boneStop: 0.05 },
        { ...listed('1'), stage: 'head-sheared' } as EntryDraft,
        bring('hollow-reamer'),
        bring('reversing-drive'),
        { type: 'work-started' },
        { type: 'screw-called', screw: '1' },
      ],
    });
    await at.touch(new RegExp(capital(content.phrases.moves['hollow-ream'].glance)));
    await at.touch(w('hold.reverse-yes'));
    const [reason = ''] = content.holds.find(({ id }) => id === 'bone-stop')?.reasons ?? [];
    await at.touch(w('hold.go-on-because', { reason }));
    return { at, goOn: () => at.touch(w('hold.past-stop', { reason })) };
  };
  const answer = ({ at }: Awaited<ReturnType<typeof past>>) =>
    at.entries().find(({ type }) => type === 'hold-answered');

  it('asks who decides among the people listed, the surgeon first, and writes down who was said', async () => {
    const one = await past(people);
    const names = [...document.querySelectorAll('.hold-checks button')].map((touch) => touch.textContent);
    expect(names).toEqual(['surgeon A', 'anaesthetist A', 'scrub A']);
    await one.at.touch('surgeon A');
    await one.goOn();
    expect(answer(one)).toMatchObject({ hold: 'bone-stop', answer: 'go-on', onWordOf: 'surgeon A' });
    expect(one.at.entries().at(-1)).toMatchObject({ type: 'move-started', move: 'hollow-ream' });
  });

  it('takes nobody for it who was not said, and does not ask where nobody is listed', async () => {
    const unsaid = await past(people);
    await unsaid.goOn();
    expect(answer(unsaid)).toMatchObject({ hold: 'bone-stop', answer: 'go-on' });
    expect(answer(unsaid)).not.toHaveProperty('onWordOf');
    cleanup();
    await past([]);
    expect(screen.queryByText(w('leave.decides'))).toBeNull();
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
  it('of the chance after a slip and of torsion have their source and status two touches away [Z9]', async () => {
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
    await at.touch(w('table.about-moves'));
    await at.touch(new RegExp(capital(content.phrases.moves['reseat-driver'].glance)));
    const told = document.querySelector('.about')?.textContent ?? '';
    for (const source of [content.limits.slipKeeps.source, content.limits.torsionRate.source])
      expect(told).toContain(sourceWords(at.app, source));
    expect(sourceWords(at.app, content.limits.slipKeeps.source)).toContain(w('status.common-practice'));
  });
});

describe('a case that is taken up again', () => {
  const running: EntryDraft[] = [
    opening,
    listed('1'),
    bring('driver-hexagonal'),
    { type: 'work-started' },
    { type: 'screw-called', screw: '1' },
    { type: 'move-started', screw: '1', move: 'turn-out' },
  ];
  const title = () => document.querySelector('.ask-row .band-title')?.textContent;

  it('asks above the outcomes whether it is this time, and one touch says yes', async () => {
    const at = await room(Table, { drafts: running, takenUp: true });
    await vi.waitFor(() => expect(title()).toMatch(/^Taken up again\. Is it \d\d:\d\d\?$/));
    expect(screen.getByRole('button', { name: new RegExp(content.phrases.outcomes.slipped.label) })).toBeTruthy();
    await at.touch(w('ask.taken-up.known'));
    expect(at.entries().at(-1)).toMatchObject({ type: 'resumed', gap: 'known' });
    expect(title()).toBeUndefined();
    // It cannot be struck, and so not be taken back.
    expect(screen.getByRole('button', { name: new RegExp(w('table.take-back')) }).getAttribute('aria-disabled')).toBe(
      'true',
    );
  });

  it('is in nobody’s way: an outcome says first that the time is not known', async () => {
    const at = await room(Table, { drafts: running, takenUp: true });
    await at.touch(new RegExp(content.phrases.outcomes['no-change'].label));
    expect(at.entries().slice(-2)).toMatchObject([
      { type: 'resumed', gap: 'not-known' },
      { type: 'move-ended', outcome: 'no-change' },
    ]);
    expect(screen.queryByText(/Taken up again/)).toBeNull();
  });

  it('names the holds that stand behind it', async () => {
    const held: EntryDraft[] = [
      ...running,
      { type: 'move-ended', screw: '1', outcome: 'no-change' },
      { type: 'move-started', screw: '1', move: 'turn-out' },
      { type: 'move-ended', screw: '1', outcome: 'no-change' },
    ];
    const at = await room(Table, { drafts: held, takenUp: true });
    const { label } = content.phrases.holds['second-surgeon'];
    await vi.waitFor(() => expect(document.querySelector('.ask-row .band-text')?.textContent).toBe(label));
    await at.touch(w('ask.taken-up.known'));
    expect(document.querySelector('.band-hold .band-title')?.textContent).toBe(label);
  });

  it('is asked the same where it stands at its closing', async () => {
    const at = await room(Closing, { drafts: [...running, { type: 'work-ended' }], takenUp: true });
    await at.touch(w('ask.taken-up.not-known'));
    expect(at.entries().at(-1)).toMatchObject({ type: 'resumed', gap: 'not-known' });
    expect(document.querySelector('.closing-ask')).toBeNull();
  });
});

describe('two stories that cannot both be true', () => {
  /** Screw 1 came out, and a minute later somebody tells that its shank broke, three minutes after that. */
  const told = async () => {
    const drafts: EntryDraft[] = [opening, listed('1'), listed('2'), bring('driver-hexagonal')];
    const at = await room(Table, {
      drafts: [...drafts, { type: 'work-started' }, { type: 'screw-called', screw: '1' }],
    });
    const { session } = at.app;
    const long = { minutesAgo: 30 };
    await session.record({ type: 'move-started', screw: '1', move: 'turn-out' }, long);
    await session.record({ type: 'move-ended', screw: '1', outcome: 'out' }, long);
    await session.record({ type: 'move-started', screw: '1', move: 'conical-extractor' }, { minutesAgo: 6 });
    await session.record(
      { type: 'move-ended', screw: '1', outcome: 'shank-broke', reachable: true },
      { minutesAgo: 5 },
    );
    await at.touch(w('ask.conflict.look'));
    return at;
  };
  const asked = () => at0.app.view()?.conflicts;
  let at0: Awaited<ReturnType<typeof told>>;
  beforeEach(async () => void (at0 = await told()));

  it('stand under each other in words', () => {
    expect(asked()).toEqual([[8, 10]]);
    const text = document.querySelector('.table-sheet')?.textContent ?? '';
    for (const n of [8, 10]) expect(text).toContain(sayEntry(at0.entries()[n - 1] as Entry, at0.app.open()!.folded));
  });

  it('that one was wrong: it is struck with its start, and the other one stands', async () => {
    await at0.touch(w('conflict.wrong'), 1);
    expect(at0.app.view()).toMatchObject({ conflicts: [], struck: [9, 10] });
    expect(at0.entries().at(-1)).toMatchObject({ type: 'struck', reason: w('conflict.reason.wrong', { n: 8 }) });
    expect(at0.app.view()?.screws['1']?.stage).toBe('out');
    expect(document.querySelector('.table-sheet')).toBeNull();
  });

  it('another screw: the move with its end goes over to it', async () => {
    await at0.touch(w('conflict.screw'), 1);
    await at0.touch(w('wrong.was', { screw: '2' }));
    expect(at0.entries().at(-1)).toMatchObject({ type: 'reassigned', entries: [9, 10], screw: '2' });
    const { conflicts, screws } = at0.app.view()!;
    expect([conflicts, screws['1']?.stage, screws['2']?.stage]).toEqual([[], 'out', 'head-sheared']);
  });

  it('time wrong: told again at its own time, as long as before, and struck where it stood', async () => {
    await at0.touch(w('conflict.time'), 1);
    for (const key of ['4', '0']) await at0.touch(key);
    await at0.touch(w('when.use'));
    expect(at0.app.view()).toMatchObject({ conflicts: [], struck: [9, 10] });
    const [start, end] = at0.entries().slice(-2);
    expect(end).toMatchObject({ type: 'move-ended', outcome: 'shank-broke', reachable: true, start: start?.n });
    expect(Date.parse(end?.logged ?? '') - Date.parse(end?.at ?? '')).toBe(40 * 60_000);
    const lasted = (entries: readonly (Entry | undefined)[]) =>
      Math.round((Date.parse(entries[1]?.at ?? '') - Date.parse(entries[0]?.at ?? '')) / 10_000);
    expect(lasted([start, end])).toBe(lasted(at0.entries().slice(8, 10)));
  });

  it('are asked of the one that came first as well', async () => {
    await at0.touch(w('conflict.wrong'), 0);
    expect(at0.app.view()).toMatchObject({ conflicts: [], struck: [7, 8] });
    expect(at0.app.view()?.screws['1']?.stage).not.toBe('out');
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
