/** The table under the second ladder: one question at a time, each answer an entry, nothing surer than it is known. */
import { cleanup, screen } from '@solidjs/testing-library';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { HoldId } from '../../content/ids.ts';
import { inSentence } from '../../content/names.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { capital } from '../../src/format/prose.ts';
import { Show } from 'solid-js';
import { span } from '../../src/format/figures.ts';
import { useApp } from '../../src/screens/app.ts';
import { numberAt } from '../../src/screens/numbers.ts';
import { noticeWords } from '../../src/screens/table/marks.ts';
import { Glance } from '../../src/screens/Glance.tsx';
import { Table } from '../../src/screens/table/Table.tsx';
import { room, steadyFingers } from './rooms.harness.tsx';
import { content, drafts, listed, measured, phrases, second, w, type Case } from './second.harness.tsx';

// A part that came in names parts of its own.
beforeAll(async () => {
  await loadDeferred();
  await loadDeferred();
}, 60_000);
beforeEach(steadyFingers);
afterEach(cleanup);

const atTable = (made: Case = {}) => room(Table, { drafts: drafts(made), parts: second });

const label = (hold: HoldId) => phrases.holds[hold].label;
const holdPanel = () => document.querySelector('.hold-panel');
const holdRow = () => document.querySelector('.hold-row');
const card = (move: keyof typeof phrases.moves) => new RegExp(`^\\d.*${capital(phrases.moves[move].glance)}`);
const check = (id: string) =>
  new RegExp(`^${(phrases.checks[id] as string).replace('?', '\\?').replace(/[()]/g, '\\$&')}`);

const deep = listed('1', { stage: 'fragment-retained', underPlate: false });
const stump = listed('1', { stage: 'head-sheared', underPlate: false });
const happened: EntryDraft = { type: 'event', kind: 'not-healed' };

describe('what gives pause', () => {
  it('is asked one at a time; the rest is named in a line', async () => {
    const broke: EntryDraft[] = [
      { type: 'move-started', screw: '1', move: 'reverse-tap', tool: 'reverse-tap' },
      { type: 'move-ended', screw: '1', outcome: 'tool-broke' },
    ];
    const at = await atTable({ screws: [listed('1', { stage: 'recess-stripped' })], then: [...broke, happened] });
    expect(document.querySelectorAll('.hold-row')).toHaveLength(1);
    expect(holdRow()?.textContent).toContain(label('stop-and-think'));
    expect(holdRow()?.textContent).toContain(`2 more: ${phrases.holds['find-tip'].glance}`);
    await at.touch(w('answer.heeded'));
    expect(at.entries().at(-1)).toMatchObject({ type: 'hold-answered', hold: 'stop-and-think', answer: 'heeded' });
    expect(holdRow()?.textContent).toContain(label('find-tip'));
  });

  it('has its checks, each yes, no or not known, and its reasons; what nobody said is not in the entry', async () => {
    const at = await atTable({ then: [happened] });
    await at.touch(w('answer.go-on'));
    await at.touch(check('imagesSeen'));
    await at.touch(check('fixationAgreed'));
    await at.touch(check('fixationAgreed'));
    await at.touch(w('hold.go-on-because', { reason: 'samples taken first' }));
    const last = at.entries().at(-1);
    expect(last).toMatchObject({ hold: 'stop-and-think', answer: 'go-on', reason: 'samples taken first' });
    expect(last).toHaveProperty('checks', { imagesSeen: 'yes', fixationAgreed: 'no' });
    expect(holdRow()).toBeNull();
  });

  it('comes before a look at the recess', async () => {
    const slipped: EntryDraft[] = [
      { type: 'move-started', screw: '1', move: 'turn-out' },
      { type: 'move-ended', screw: '1', outcome: 'slipped' },
    ];
    const at = await atTable({ then: [...slipped, happened] });
    expect(holdPanel()).toBeNull();
    await at.touch(w('answer.heeded'));
    expect(holdPanel()?.textContent).toContain(label('reassess'));
  });
});

describe('a tip to find', () => {
  const broke: EntryDraft[] = [
    { type: 'colleague-called' },
    { type: 'move-started', screw: '1', move: 'reverse-tap', tool: 'reverse-tap' },
    { type: 'move-ended', screw: '1', outcome: 'tool-broke', bores: [] },
  ];
  const stripped = { screws: [listed('1', { stage: 'recess-stripped' })], then: broke };

  it('is found with one touch, and then asked whether that is all of it', async () => {
    const at = await atTable(stripped);
    const tip = at.entries().length;
    await at.touch(w('answer.found'));
    expect(at.entries().at(-1)).toMatchObject({ hold: 'find-tip', answer: 'found', tip, tool: 'reverse-tap' });
    expect(at.app.view()?.toolTips).toMatchObject([{ closes: 'open' }]);
    await at.touch(w('ask.tip-all.yes'));
    expect(at.app.view()?.toolTips).toMatchObject([{ closes: 'assumed' }]);
    expect(holdRow()).toBeNull();
  });

  it('of which a part was found stays open in the account', async () => {
    const at = await atTable(stripped);
    await at.touch(w('answer.found'));
    await at.touch(w('ask.tip-all.no'));
    expect(at.entries().at(-1)).toMatchObject({ hold: 'find-tip', answer: 'not-found', reason: w('ask.tip-all.rest') });
    expect(at.app.view()?.toolTips).toMatchObject([{ closes: 'open' }]);
    expect(holdRow()).toBeNull();
  });

  it('is no tip where nothing is missing', async () => {
    const at = await atTable(stripped);
    await at.touch(w('ask.tip.whole'));
    expect(at.entries().at(-1)).toMatchObject({ type: 'tool-damaged', tool: 'reverse-tap', tipMissing: false });
    expect(at.app.view()?.holds).toEqual([]);
  });

  it('is asked for later by one touch', async () => {
    const at = await atTable(stripped);
    await at.touch(w('answer.later'));
    expect(at.entries().at(-1)).toMatchObject({ hold: 'find-tip', answer: 'later' });
    expect(at.app.view()?.holds).toEqual([]);
  });
});

describe('lifting the plate', () => {
  const lift = async (made: Case = {}) => {
    const at = await atTable(made);
    await at.touch(w('table.more'));
    await at.touch(w('more.lift'));
    return at;
  };

  it('asks what still holds it, by two counts; unequal ones leave the question standing', async () => {
    const out: EntryDraft[] = [
      { type: 'move-started', screw: '1', move: 'turn-out' },
      { type: 'move-ended', screw: '1', outcome: 'out', whole: true },
    ];
    const at = await lift({ screws: [listed('1'), listed('2')], then: out });
    expect(at.entries().at(-1)).toMatchObject({ type: 'part-move', part: 'plate', move: 'lift' });
    const count = async (seen: string, gone: string) => {
      await at.touch(w('pause.count'));
      expect(screen.getByRole('button', { name: new RegExp(w('pause.counted')) }).getAttribute('aria-disabled')).toBe(
        'true',
      );
      await at.touch(seen);
      await at.touch(gone);
      await at.touch(w('pause.counted'));
    };
    await count('3', '1');
    expect(at.entries().at(-1)).toMatchObject({ hold: 'still-fixed', answer: 'confirmed', seen: 3, out: 1 });
    expect(at.app.view()?.holds).toEqual(['still-fixed']);
    await at.touch(w('answer.go-on'));
    await at.touch(w('hold.go-on-because', { reason: 'no image to count on' }));
    expect(at.app.view()?.holds).toEqual([]);
    await at.touch(w('ask.lift.off'));
    expect(at.entries().at(-1)).toMatchObject({ type: 'plate-off' });
    expect(at.app.view()?.unanswered).toEqual([]);
  });

  it('counts many screws first and asks after it, and what the question rests on stands beside it', async () => {
    const many = ['1', '2', '3', '4', '5', '6'].map((id) => listed(id));
    const at = await lift({ screws: many });
    await at.touch(w('pause.count'));
    const reasons = () => screen.queryAllByRole('button', { name: /^Go on:/ }).length;
    expect(reasons()).toBe(0);
    await at.touch('7');
    await at.touch('0');
    expect(reasons()).toBeGreaterThan(0);
    const [line] = content.holds.find(({ id }) => id === 'still-fixed')?.evidence ?? [];
    const source = content.sources.find(({ id }) => id === line?.source);
    const shown = document.querySelector('.still-fixed')?.textContent;
    expect(shown).toContain(line?.text);
    expect(shown).toContain(`${source?.cite} (${w(`status.${source?.status ?? ''}`)})`);
    await at.touch(w('pause.counted'));
    expect(at.entries().at(-1)).toMatchObject({ hold: 'still-fixed', answer: 'confirmed', seen: 7, out: 0 });
  });

  it('lets nobody count, with one touch more', async () => {
    const at = await lift({ screws: ['1', '2', '3', '4', '5', '6'].map((id) => listed(id)) });
    await at.touch(w('pause.count'));
    await at.touch(w('pause.not-counted'));
    await at.touch(w('hold.go-on-because', { reason: 'no image to count on' }));
    expect(at.entries().at(-1)).toMatchObject({ hold: 'still-fixed', answer: 'go-on' });
    expect(at.entries().at(-1)).not.toHaveProperty('seen');
  });

  it('says that the plate is off only when somebody does', async () => {
    const at = await lift({ screws: [stump] });
    expect(at.entries().some(({ type }) => type === 'plate-off')).toBe(false);
    await at.touch(w('ask.lift.holds'));
    expect(at.entries().at(-1)).toMatchObject({ type: 'part-move', move: 'lift', outcome: 'no-change' });
    expect(at.app.open()?.folded.case.context.room.plateOff).toBe(false);
    expect(holdRow()).toBeNull();
  });
});

describe('what stands before a move', () => {
  const proud: EntryDraft = { type: 'found', screw: '1', tipProud: true, corridor: true };

  it('is one sheet: far wall, bone, reverse last, each answer its own entry, and then the move', async () => {
    const at = await atTable({
      screws: [deep],
      bone: { ...measured, source: 'assumed' },
      tools: ['hollow-reamer', 'reversing-drive'],
    });
    const from = at.entries().length;
    await at.touch(card('hollow-ream'));
    expect(document.querySelectorAll('.hold-panel')).toHaveLength(1);
    expect(holdRow()).toBeNull();
    expect(holdPanel()?.textContent).toContain(label('far-wall'));
    expect(holdPanel()?.textContent).toContain(
      w('before.then', { holds: `${phrases.holds['bone-unmeasured'].glance}, ${phrases.holds.reverse.glance}` }),
    );
    await at.touch(check('sharp'));
    await at.touch(w('answer.confirmed'));
    expect(at.entries().at(-1)).toMatchObject({
      hold: 'far-wall',
      screw: '1',
      answer: 'confirmed',
      checks: { sharp: 'yes' },
    });
    await at.touch(w('answer.go-on'));
    await at.touch(w('hold.go-on-because', { reason: 'no calibrated film' }));
    await at.touch(w('hold.reverse-yes'));
    const told = at.entries().slice(from);
    expect(told.map((entry) => (entry.type === 'hold-answered' ? entry.hold : entry.type))).toEqual([
      ...['far-wall', 'bone-unmeasured', 'move-started'],
    ]);
    expect(told.at(-1)).toMatchObject({ move: 'hollow-ream', tool: 'hollow-reamer', reverseConfirmed: true });
    expect(at.app.view()?.unanswered).toEqual([]);
  });

  it('says what lies beyond for this bone, with the source and how far it was read', async () => {
    const at = await atTable({ screws: [deep], then: [proud], opened: { bone: 'Femur' } });
    await at.touch(card('push-through'));
    const text = holdPanel()?.textContent ?? '';
    for (const row of content.beyond.filter(({ bone }) => bone === 'femur')) expect(text).toContain(row.text);
    expect(text).toContain(w('status.from-memory'));
    cleanup();
    const other = await atTable({ screws: [deep], then: [proud], opened: { bone: 'calcaneus' } });
    await other.touch(card('push-through'));
    expect(holdPanel()?.textContent).toContain(w('before.nothing-listed'));
  });

  it('is asked again after it was heeded: another move was meant', async () => {
    const at = await atTable({ screws: [deep], then: [proud] });
    await at.touch(card('push-through'));
    await at.touch(w('before.heeded'));
    expect(at.entries().at(-1)).toMatchObject({ hold: 'far-wall', answer: 'heeded' });
    await at.touch(card('push-through'));
    expect(holdPanel()?.textContent).toContain(label('far-wall'));
  });

  it('leads to the measuring of the bone, and from there back to what still stands', async () => {
    const at = await atTable({ screws: [stump], bone: null, tools: ['gouge', 'locking-pliers'] });
    await at.touch(card('gouge-and-grip'));
    await at.touch(w('before.measure'));
    expect(at.entries().at(-1)).toMatchObject({ hold: 'bone-unmeasured', answer: 'heeded' });
    expect(screen.getByRole('group', { name: w('briefing.outer-ask') })).toBeTruthy();
    await at.touch(w('table.back'));
    expect(holdPanel()?.textContent).toContain(label('bone-unmeasured'));
  });

  it('says that no bone would be left where the bore is as wide as it, and of a careful bone only that nobody knows', async () => {
    const narrow: EntryDraft = { type: 'bone-measured', outer: 8, cortex: 2, source: 'measured' };
    const at = await atTable({ screws: [stump], bone: narrow, tools: ['gouge', 'locking-pliers'] });
    await at.touch(card('gouge-and-grip'));
    expect(holdPanel()?.textContent).toContain(label('bone-stop'));
    expect(holdPanel()?.textContent).toContain(w('hold.whole-bone'));
    cleanup();
    const child = { screws: [stump], bone: null, opened: { patient: 'child' } as const };
    const other = await atTable({ ...child, tools: ['gouge', 'locking-pliers'] });
    await other.touch(card('gouge-and-grip'));
    expect(holdPanel()?.textContent).toContain(label('bone-consider'));
    expect(holdPanel()?.textContent).not.toContain(w('hold.whole-bone'));
  });

  it('asks once whether a bone thin by measure is thin, and takes silence for no answer', async () => {
    const thin: EntryDraft = { type: 'bone-measured', outer: 27, cortex: 3.5, source: 'measured' };
    const limits: EntryDraft = { type: 'limits-set', boneConsider: 0.05, boneStop: 0.9 };
    const at = await atTable({ screws: [stump], bone: thin, then: [limits], tools: ['gouge', 'locking-pliers'] });
    await at.touch(card('gouge-and-grip'));
    expect(holdPanel()?.textContent).toContain(label('bone-consider'));
    await at.touch(check('thinBone'));
    await at.touch(check('thinBone'));
    await at.touch(w('before.heeded'));
    expect(at.entries().at(-1)).toMatchObject({ hold: 'bone-consider', answer: 'heeded', checks: { thinBone: 'no' } });
    await at.touch(card('gouge-and-grip'));
    expect(screen.queryByRole('button', { name: check('thinBone') })).toBeNull();
  });
});

describe('looking again', () => {
  it('asks what the recess is like, and then by the kind of tool', async () => {
    const slipped: EntryDraft[] = [
      { type: 'move-started', screw: '1', move: 'turn-out' },
      { type: 'move-ended', screw: '1', outcome: 'slipped' },
    ];
    const at = await atTable({ then: slipped });
    const end = at.entries().length;
    await at.touch(w('reassess.recess-sound'));
    expect(at.entries().at(-1)).toMatchObject({ type: 'move-answered', of: end, recess: 'sound' });
    expect(at.app.view()?.screws['1']?.stage).toBe('seated');
    await at.touch(check('inLine'));
    await at.touch(check('inLine'));
    await at.touch(check('freshDriver'));
    await at.touch(w('hold.looked'));
    expect(at.entries().at(-1)).toHaveProperty('checks', { inLine: false, freshDriver: true });
  });

  it('asks of a gripper what a gripper is looked at for, and nothing of the recess', async () => {
    const slipped: EntryDraft[] = [
      { type: 'move-started', screw: '1', move: 'grip-shank', tool: 'locking-pliers' },
      { type: 'move-ended', screw: '1', outcome: 'slipped' },
    ];
    await atTable({ screws: [stump], then: slipped });
    expect(screen.getByRole('button', { name: check('jawsSquare') })).toBeTruthy();
    expect(screen.queryByRole('button', { name: check('inLine') })).toBeNull();
    expect(screen.queryByRole('button', { name: w('reassess.recess-sound') })).toBeNull();
  });
});

describe('the cards', () => {
  it('ask what a move rests on: yes enters it and starts, no closes the move', async () => {
    const at = await atTable({ screws: [stump], tools: ['locking-pliers'] });
    const grip = card('grip-shank');
    expect(screen.getByRole('button', { name: grip }).textContent).toContain(w('fact.short.shankProud'));
    const from = at.entries().length;
    await at.touch(grip);
    await at.touch(new RegExp(`^\\d+ ?${w('fact.no')}$`));
    expect(at.entries().slice(from)).toMatchObject([{ type: 'found', shankProud: false }]);
    expect(screen.queryByRole('button', { name: grip })).toBeNull();
    cleanup();
    const other = await atTable({ screws: [stump], tools: ['locking-pliers'] });
    await other.touch(grip);
    await other.touch(new RegExp(w('fact.yes')));
    expect(other.entries().slice(-2)).toMatchObject([
      { type: 'found', shankProud: true },
      { type: 'move-started', move: 'grip-shank' },
    ]);
  });

  it('start a move of which nobody knows what it rests on, and enter nothing that nobody said', async () => {
    const at = await atTable({ screws: [stump], tools: ['locking-pliers'] });
    await at.touch(card('grip-shank'));
    await at.touch(new RegExp(w('fact.not-known')));
    expect(at.entries().at(-1)).toMatchObject({ type: 'move-started', move: 'grip-shank' });
    expect(at.entries().some(({ type }) => type === 'found')).toBe(false);
  });

  it('leave a screw for later by a card of its own, number 9, and not the only one in no plate', async () => {
    const at = await atTable({ screws: [listed('1'), listed('2')] });
    await at.touch(new RegExp(`^9 ?${w('card.defer')}`));
    expect(at.entries().at(-1)).toMatchObject({ type: 'deferred', screw: '1' });
    cleanup();
    await atTable({ opened: { construct: 'screws' } });
    expect(screen.queryByRole('button', { name: new RegExp(w('card.defer')) })).toBeNull();
  });

  it('say what opens if the screw waits, and what it costs then', async () => {
    const screws = [listed('1', { stage: 'head-sheared' }), listed('2'), listed('3')];
    const at = await atTable({ screws });
    const row = at.app.view()?.screws['1']?.ifYouWait?.[0];
    expect(row).toMatchObject({ tactic: 'plate-off' });
    const line = document.querySelector('.stage-note')?.textContent ?? '';
    expect(line).toContain(inSentence(content, phrases.moves[row?.opens ?? 'leave-in'].label));
    expect(line.includes(w('wait.unsure'))).toBe(row?.sure === false);
  });
});

describe('a cuff without a limit', () => {
  it('is told with its time and that no limit is set', async () => {
    const at = await atTable({ then: [{ type: 'tourniquet', to: 'up' }] });
    const view = at.app.view();
    if (!view) throw new Error('no case is open');
    const app = { ...at.app, view: () => ({ ...view, clocks: { ...view.clocks, tourniquetMinutes: 61 } }) };
    const label = phrases.holds.tourniquet.label;
    expect(noticeWords(app, 'tourniquet')).toBe(w('notice.no-limit', { label, minutes: span(61) }));
    const limited = { ...app, view: () => ({ ...view, limits: { ...view.limits, tourniquet: 120 } }) };
    expect(noticeWords(limited, 'tourniquet')).toBe(label);
  });
});

describe('the numbers', () => {
  it('of the moves leave out the one that leaves a screw for later, by the second ladder alone', () => {
    const places = [0, 7, 8, 9];
    expect(places.map((place) => numberAt(place, true))).toEqual([1, 8, 10, 11]);
    expect(places.map((place) => numberAt(place, false))).toEqual([1, 8, 9, 10]);
  });
});

describe('the surgeon’s page', () => {
  /** Side, screw and stage, and below them what is asked. */
  const asked = () => ['.glance-state', '.glance-question'].map((line) => document.querySelector(line)?.textContent);

  it('goes on with what the table was asking', async () => {
    const proud: EntryDraft = { type: 'found', screw: '1', tipProud: true, corridor: true };
    const Both = () => {
      const { screen: name } = useApp();
      return (
        <Show when={name() === 'glance'} fallback={<Table />}>
          {<Glance />}
        </Show>
      );
    };
    const at = await room(Both, { drafts: drafts({ screws: [deep], then: [proud] }), parts: second });
    await at.touch(card('push-through'));
    await at.touch(w('table.show'));
    expect(asked()).toEqual([
      `LEFT 1 ${phrases.stages['fragment-retained'].glance}`,
      capital(phrases.holds['far-wall'].glance),
    ]);
    await at.touch(new RegExp(w('glance.answer')));
    expect(holdPanel()?.textContent).toContain(label('far-wall'));
    await at.touch(w('before.heeded'));
    await at.touch(w('table.show'));
    expect(asked()[1]).not.toBe(capital(phrases.holds['far-wall'].glance));
  });

  it('asks what lies beyond the far wall, and the table goes on with it', async () => {
    const proud: EntryDraft = { type: 'found', screw: '1', tipProud: true, corridor: true };
    const at = await room(Glance, { drafts: drafts({ screws: [deep], then: [proud] }), parts: second });
    const from = at.entries().length;
    await at.touch(new RegExp(capital(phrases.moves['push-through'].glance)));
    expect(asked()).toEqual([
      `LEFT 1 ${phrases.stages['fragment-retained'].glance}`,
      capital(phrases.holds['far-wall'].glance),
    ]);
    await at.touch(new RegExp(w('glance.answer')));
    expect([at.app.screen(), at.entries().length]).toEqual(['table', from]);
  });

  it('offers to come back later where the plate lies on the shank, before letting it stay; so does the table', async () => {
    const under = { screws: [listed('1', { stage: 'head-sheared' }), listed('2')] };
    const at = await room(Glance, { drafts: drafts(under), parts: second });
    expect([...document.querySelectorAll('.glance-option')].map((one) => one.textContent?.trim())).toEqual([
      expect.stringMatching(new RegExp(`^9.*${w('glance.later')}`)),
      expect.stringMatching(/^0/),
      expect.stringContaining(capital(w('glance.call'))),
    ]);
    await at.touch(new RegExp(w('glance.later')));
    expect(at.entries().at(-1)).toMatchObject({ type: 'deferred', screw: '1' });
    cleanup();
    const table = await atTable(under);
    expect(document.querySelectorAll('.closed-list li')).toHaveLength(4);
    await table.touch(w('card.defer'));
    expect(table.entries().at(-1)).toMatchObject({ type: 'deferred', screw: '1' });
  });

  it('shows what gives pause', async () => {
    await room(Glance, { drafts: drafts({ then: [happened] }), parts: second });
    expect(asked()).toEqual([
      `LEFT 1 ${phrases.stages.seated.glance}`,
      capital(phrases.holds['stop-and-think'].glance),
    ]);
  });
});
