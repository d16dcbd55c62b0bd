/** What the table tells by the second ladder beside its questions: tips, both ways of a deep piece, one line a card. */
import { cleanup, screen } from '@solidjs/testing-library';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { HoldId } from '../../content/ids.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import type { CaseState } from '../../machines/view.types.ts';
import { loadDeferred } from '../../src/deferred.ts';
import { capital } from '../../src/format/prose.ts';
import { percent } from '../../src/format/figures.ts';
import { glancePage } from '../../src/screens/glance-page.ts';
import { Glance } from '../../src/screens/Glance.tsx';
import { Table } from '../../src/screens/table/Table.tsx';
import { room, steadyFingers } from './rooms.harness.tsx';
import { content, drafts, listed, measured, moved, phrases, second, w, type Case } from './second.harness.tsx';

beforeAll(async () => {
  await loadDeferred();
  await loadDeferred();
}, 60_000);
beforeEach(steadyFingers);
afterEach(cleanup);

const atTable = (made: Case = {}) => room(Table, { drafts: drafts(made), parts: second });
const notes = () => [...document.querySelectorAll('.stage-note')].map((note) => note.textContent);
const tap = phrases.tools['reverse-tap'].label;
const mark = w('tip.mark', { tool: tap });
const deep = listed('1', { stage: 'fragment-retained', underPlate: false });

describe('a tip that was found', () => {
  const stripped: Case = {
    screws: [listed('1', { stage: 'recess-stripped' })],
    then: [{ type: 'colleague-called' }, ...moved('reverse-tap', 'tool-broke', { tool: 'reverse-tap' }, { bores: [] })],
  };

  it('has its length and its image asked in the next touch, and neither is needed', async () => {
    const at = await atTable(stripped);
    const tip = at.entries().length;
    await at.touch(w('answer.found'));
    await at.touch(w('ask.tip-all.more'));
    await at.touch(w('tip.image'));
    await at.touch('6');
    await at.touch(w('tip.take'));
    await at.touch(w('ask.tip-all.yes'));
    expect(at.entries().slice(-2)).toMatchObject([
      { hold: 'find-tip', answer: 'found', tip, imageTaken: true },
      { type: 'piece-recovered', tool: 'reverse-tap', tip, length: 6, lengthHow: 'measured', complete: true },
    ]);
    // How long the tip was before nobody knows: that this is all of it was said, not measured.
    expect(at.app.view()?.toolTips).toMatchObject([{ closes: 'assumed', recovered: 6 }]);
    expect(document.querySelector('.hold-row')).toBeNull();
  });

  it('is asked about before a colleague is, and the row says that this waits', async () => {
    const [, ...then] = stripped.then ?? [];
    const at = await atTable({ ...stripped, then });
    await at.touch(w('answer.found'));
    expect(document.querySelector('.hold-row')?.textContent).toContain(phrases.holds['second-surgeon'].label);
    await at.touch(w('ask.tip-all.yes'));
    expect(at.app.view()?.toolTips).toMatchObject([{ closes: 'assumed' }]);
    expect(at.app.view()?.screws['1']?.holds).toContain('second-surgeon');
  });

  it('of which nobody said how long it is has no length, and no image that nobody saw', async () => {
    const at = await atTable(stripped);
    await at.touch(w('answer.found'));
    await at.touch(w('ask.tip-all.more'));
    const from = at.entries().length;
    await at.touch(w('ask.tip-all.yes'));
    const told = at.entries().slice(from);
    expect(told.map(({ type }) => type)).toEqual(['piece-recovered']);
    expect(told[0]).not.toHaveProperty('length');
    expect(at.app.view()?.toolTips).toMatchObject([{ closes: 'assumed' }]);
  });

  it('in part, with its length, stays open and stays marked', async () => {
    const at = await atTable(stripped);
    await at.touch(w('answer.found'));
    await at.touch(w('ask.tip-all.more'));
    await at.touch('2');
    await at.touch(w('tip.take'));
    await at.touch(w('ask.tip-all.no'));
    expect(at.entries().at(-1)).toMatchObject({ hold: 'find-tip', answer: 'not-found' });
    expect(at.app.view()?.toolTips).toMatchObject([{ closes: 'open' }]);
    expect(notes()).toContain(mark);
  });

  it('put off stands marked on the table, with another screw called too, until it has ended', async () => {
    const at = await atTable({ ...stripped, screws: [...(stripped.screws ?? []), listed('2')] });
    expect(notes()).not.toContain(mark);
    await at.touch(w('answer.later'));
    expect(notes()).toContain(mark);
    await at.touch(/^2 .*/);
    expect(notes()).toContain(mark);
    await at.touch(w('table.more'));
    await at.touch(w('more.tool'));
    await at.touch(w('tip.found-which', { tool: tap }));
    await at.touch(w('ask.tip-all.yes'));
    expect(at.app.view()?.toolTips).toMatchObject([{ closes: 'assumed' }]);
    expect(notes()).not.toContain(mark);
  });
});

describe('letting a deep piece stay', () => {
  const notice = content.holds.find(({ id }) => id === 'consider-trephine')?.source ?? '';
  const cite = content.sources.find(({ id }) => id === notice)?.cite ?? 'no source';

  it('shows both ways with their figures and sources on its sheet', async () => {
    const at = await atTable({ screws: [deep] });
    expect(at.app.view()?.screws['1']?.notices).toContain('consider-trephine');
    await at.touch(new RegExp(`^${w('table.leave')}`));
    const sheet = document.querySelector('.table-sheet')?.textContent ?? '';
    expect(sheet).toContain(phrases.holds['consider-trephine'].label);
    expect(sheet).toContain(phrases.holds['consider-trephine'].help);
    expect(sheet).toContain(cite);
    for (const id of ['leave-in', 'hollow-ream'])
      for (const { text } of content.moves.find((move) => move.id === id)?.evidence ?? [])
        expect(sheet).toContain(text);
  });

  it('shows none of that for a screw that is not deep', async () => {
    const at = await atTable();
    await at.touch(new RegExp(`^${w('table.leave')}`));
    expect(document.querySelector('.both-sides')).toBeNull();
    expect(document.querySelector('.either-way')).toBeNull();
  });
});

describe('a card', () => {
  it('says in one line what stands before its move, and its sheet says all of it', async () => {
    const at = await atTable({ screws: [deep], tools: ['hollow-reamer', 'reversing-drive'] });
    const name = capital(phrases.moves['hollow-ream'].glance);
    const before = screen.getByRole('button', { name: new RegExp(`^\\d.*${name}`) }).querySelector('.card-before');
    expect(before?.textContent).toMatch(new RegExp(`^${phrases.holds['far-wall'].glance.replace('?', '\\?')} \\+\\d$`));
    await at.touch(w('table.about-moves'));
    await at.touch(new RegExp(name));
    const sheet = document.querySelector('.table-sheet')?.textContent ?? '';
    for (const hold of at.app.view()?.screws['1']?.offered.find(({ move }) => move === 'hollow-ream')?.holds ?? [])
      expect(sheet).toContain(phrases.holds[hold].glance);
    expect(sheet).toContain(w('card.assumed-reamer'));
  });

  it('to come back later says when all others wait, too', async () => {
    const screws = [listed('1'), listed('2')];
    const waits = w('card.defer-all');
    const defer = () => screen.getByRole('button', { name: new RegExp(`^9 ?${w('card.defer')}`) }).textContent;
    await atTable({ screws });
    expect(defer()).not.toContain(waits);
    cleanup();
    const then: EntryDraft[] = [
      { type: 'deferred', screw: '1' },
      { type: 'screw-called', screw: '2' },
    ];
    await atTable({ screws, then });
    expect(defer()).toContain(waits);
  });
});

describe('the surgeon’s page', () => {
  const lines = () =>
    [...document.querySelectorAll('.glance-option')].map((option) => ({
      text: option.textContent ?? '',
      after: option.querySelector('.glance-after')?.textContent ?? null,
    }));
  const page = (distance: number, made: Case) =>
    room(Glance, {
      drafts: drafts(made),
      parts: second,
      more: { preferences: () => ({ theme: 'dark', pxPerMm: null, distance }) },
    });

  it('offers the moves where a further look is a line, as the table does', async () => {
    const then: EntryDraft[] = [
      ...moved('turn-out', 'slipped'),
      { type: 'reassessed', screw: '1', checks: {} },
      ...moved('reseat-driver', 'slipped'),
      { type: 'hold-answered', hold: 'second-surgeon', screw: '1', answer: 'not-available' },
      ...moved('grip-head', 'slipped', { tool: 'locking-pliers' }),
    ];
    const at = await page(3, { then });
    expect(at.app.view()?.screws['1']?.lines).toEqual(['reassess']);
    expect(document.querySelector('.glance-state')?.textContent).not.toContain(phrases.holds.reassess.glance);
    expect(lines().map(({ text }) => text)).not.toContainEqual(expect.stringContaining(w('glance.table')));
  });
  const wide: EntryDraft = { type: 'limits-set', boneConsider: 0.05, boneStop: 0.9 };

  it('has the side first, and the cortex after each option near by', async () => {
    const at = await page(2.5, { screws: [deep] });
    expect(document.querySelector('.glance-state')?.textContent).toBe(
      `LEFT 1 ${phrases.stages['fragment-retained'].glance}`,
    );
    const offered = at.app.view()?.screws['1']?.offered ?? [];
    const shown = lines().filter(({ after }) => after !== null);
    expect(shown.length).toBe(3);
    expect(shown.map(({ after }) => after)).toEqual(
      [...offered.slice(0, 2), offered.find(({ move }) => move === 'leave-in')].map((one) =>
        percent(one?.cortexLost ?? null),
      ),
    );
    expect(lines().find(({ text }) => text.includes(capital(w('glance.call'))))?.after).toBeNull();
  });

  it('asks about a limit of the bone, and commands nothing', async () => {
    const at = await page(2.5, { screws: [deep] });
    const asked = (hold: HoldId) => glancePage(at.app.view() as CaseState, content, w, 'LEFT', [], [hold]);
    for (const hold of ['bone-stop', 'bone-consider', 'far-wall'] as const)
      expect(asked(hold).state).toBe(`LEFT 1 ${phrases.stages['fragment-retained'].glance}`);
    expect(asked('bone-stop').question).toBe('Cortex stop?');
    expect(asked('bone-consider').question).toBe('Cortex caution?');
    expect(asked('far-wall').question).toBe('Beyond far wall?');
  });

  it('says from farther off only which limit it is over', async () => {
    await page(3, { screws: [deep], then: [wide] });
    expect(lines()[0]?.after).toBe(w('glance.over', { share: 5 }));
    cleanup();
    await page(3, { screws: [deep] });
    expect(lines().map(({ after }) => after)).toEqual([null, null, null, null]);
  });

  it('does not know what nobody measured', async () => {
    await page(2, { screws: [deep], bone: null, opened: { bone: 'calcaneus' } });
    expect(lines()[0]?.after).toBe(w('glance.after-unknown'));
  });

  it('has number 0 for letting it stay, as the table has', async () => {
    await page(2, { screws: [deep] });
    expect(lines().map(({ text }) => text.trim())[2]).toMatch(
      new RegExp(`^0 ${capital(phrases.moves['leave-in'].glance)}`),
    );
    cleanup();
    await atTable({ bone: measured });
    expect(screen.getByRole('button', { name: new RegExp(`^${w('table.leave')}`) }).textContent).toContain(
      w('table.number', { n: 0 }),
    );
    window.dispatchEvent(new KeyboardEvent('keydown', { key: '0' }));
    expect(document.querySelector('.table-sheet')?.textContent).toContain(w('leave.title', { screw: '1' }));
  });
});

describe('number 0', () => {
  it('asks nothing while no screw is in hand', async () => {
    await atTable({ then: moved('turn-out', 'out'), screws: [listed('1'), listed('2')] });
    window.dispatchEvent(new KeyboardEvent('keydown', { key: '0' }));
    await Promise.resolve();
    expect(document.querySelector('.table-sheet')).toBeNull();
  });
});
