import { cleanup, fireEvent, render, within } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { ImageFinding, Role } from '../../content/ids.ts';
import { loadContent } from '../../content/catalog.ts';
import { fetchReleases } from '../../content/later.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { LogPort } from '../../src/store/port.ts';
import { MetalRow } from '../../src/pictures/MetalRow.tsx';
import { metalRow } from '../../src/pictures/metal-row.ts';
import { Closing } from '../../src/screens/Closing.tsx';
import { countLacks } from '../../src/screens/closing/CountSheet.tsx';
import { accountOf, isAnythingOpen, piecesOf } from '../../src/screens/closing/account.ts';
import { broke, caseWith, moves, opening, settled, touch, useClock, w } from './closing-kit.tsx';

beforeEach(useClock);
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

/** Screws 1 out and measured, 2 broken deep with a piece out. */
const broken = [...opening, ...moves('1', 'out', { recovered: 14 }), ...broke('2', 6)];
const plateOut = { type: 'part-ended' as const, part: 'plate', end: 'out' as const, complete: true };
const ended = [
  ...opening,
  ...moves('1', 'out', { recovered: 14 }),
  ...moves('2', 'out', { recovered: 16 }),
  plateOut,
  { type: 'work-ended' as const },
];
const brokenEnded = [...broken, plateOut, { type: 'work-ended' as const }];

async function closing(drafts: typeof opening, ...more: [log?: LogPort, writer?: boolean, content?: Content]) {
  const kit = await caseWith(drafts, ...more);
  const page = kit.show(() => <Closing />);
  const named = (name: string | RegExp) => page.getByRole('button', { name });
  const press = (name: string | RegExp) => touch(named(name));
  const isClosed = (name: string | RegExp) => named(name).getAttribute('aria-disabled') === 'true';
  const plain = () => (page.container.textContent ?? '').replaceAll('\u00a0', ' ');
  return { ...kit, page, named, press, isClosed, plain };
}

const key = (word: string) => new RegExp(`^${w(word).replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}`);

describe('the account of the metal', () => {
  it('names each screw with listed, out, left and missing in mm and what the lengths may differ by', async () => {
    const { page, plain } = await closing(broken);
    expect(plain()).toContain('listed 16 mm ± 1 mmout 6 mmleft 0 mmstill in 10 mm');
    expect(plain()).toContain('listed 14 mm ± 1 mmout 14 mmleft 0 mmopen 0 mm');
    const rows = page.getAllByRole('button').filter((one) => one.classList.contains('account-row'));
    // What is still open stands first.
    const [second, plate, first] = rows as [HTMLElement, HTMLElement, HTMLElement];
    expect([first, second].map((row) => within(row).getByRole('img').getAttribute('aria-label'))).toHaveLength(2);
    // The plate has its place, and no length to draw.
    expect(plate.textContent).toBe(`${w('part.plate')}${w('closing.state.open')}`);
    expect(second.textContent).toContain(w('closing.state.open'));
    expect(first.textContent).toContain(w('closing.state.accounted'));
  });

  it('draws the screws in their order, each with how it closes, counts the same, and what is no screw by itself', async () => {
    await closing(broken);
    const drawn = [...document.querySelectorAll('.metal-picture li')];
    expect(drawn.map((one) => one.querySelector('b')?.textContent)).toEqual(['1', '2']);
    expect(drawn.map((one) => one.getAttribute('data-closes'))).toEqual(['closed', 'open']);
    const counts = [...document.querySelectorAll('.metal-picture figcaption span')].map((one) => one.textContent);
    expect(counts).toEqual([
      ...[`1 ${w('closing.closes.open')}`, `1 ${w('closing.closes.closed')}`, `0 ${w('closing.closes.stays')}`],
      w('closing.closes.others', { open: 1, all: 1 }),
    ]);
  });

  it('gives a piece to the very tip whose row it was entered on, also when two of one tool broke', async () => {
    const tip = { type: 'tool-damaged' as const, tool: 'pick' as const, how: 'tip broke off', tipMissing: true };
    const { page, press, entries } = await closing([...opening, tip, tip]);
    const [, second] = page.getAllByRole('button', { name: /^Tip of|tip/i });
    const [first, last] = entries().filter(({ type }) => type === 'tool-damaged');
    if (!second || !first || !last) throw new Error('two tips have two rows');
    await touch(second);
    await press(w('closing.piece-out'));
    await press('4');
    await press(w('closing.record'));
    expect(entries().at(-1)).toMatchObject({ type: 'piece-recovered', tool: 'pick', tip: last.n, length: 4 });
    await press(w('closing.all-complete'));
    expect(entries().at(-1)).toMatchObject({ type: 'piece-recovered', tool: 'pick', tip: last.n, complete: true });
  });

  it('says the side as a word and the fixed caution that it is not the official count [Z2] [Z19]', async () => {
    const { plain, press } = await closing(broken);
    expect(plain()).toContain('RIGHT fibula');
    const caution = 'It is not the official count of swabs and instruments.';
    expect(plain()).toContain(caution);
    for (const panel of ['closing.wash', 'closing.numbers']) {
      await press(key(panel));
      expect(plain()).toContain(caution);
      await press(w('closing.back'));
    }
  });

  it('takes the length of a piece from the pad, and shows it only once it is written', async () => {
    const log = openMemory();
    let release: () => void = () => undefined;
    const { press, plain, named, types } = await closing(broken, log);
    const append = log.append.bind(log);
    log.append = (caseId, entry) => new Promise((done) => (release = () => void append(caseId, entry).then(done)));
    await press(/^Screw 2/);
    await press(w('closing.piece-out'));
    await press('4');
    await press(w('closing.record'));
    expect(types().at(-1)).toBe('move-ended');
    release();
    await settled();
    expect(types().at(-1)).toBe('piece-recovered');
    expect(plain()).toContain('out 10 mm');
    expect(named(w('closing.piece-out'))).toBeTruthy();
  });

  it('says why an entry was not taken, and shows nothing as recorded [Z14]', async () => {
    const log = openMemory();
    const { press, plain, types } = await closing(broken, log);
    log.append = async () => ({ ok: false, reason: { code: 'no-room' } });
    await press(key('closing.wash'));
    await press(w('closing.washed-out'));
    expect(types()).not.toContain('washed-out');
    expect(plain()).toContain('NOT RECORDED: no room left');
  });

  it('leaves a piece in with where, why, image, who decided and who was told', async () => {
    const { press, entries, plain } = await closing(broken);
    await press(/^Screw 2/);
    await press(key('closing.leave-in'));
    await press('1');
    await press('0');
    await press(w('closing.go-on'));
    await press('far wall');
    await press(w('closing.go-on'));
    await press('too deep');
    await press(w('closing.go-on'));
    await press(w('closing.image-yes'));
    await press('second surgeon');
    await press('operating surgeon');
    await press(w('closing.go-on'));
    await press('whole team');
    await press(w('closing.record-left'));
    expect(entries().at(-1)).toMatchObject({
      type: 'left-in',
      screw: '2',
      length: 10,
      lengthHow: 'difference',
      where: 'far wall',
      reason: 'too deep',
      imageTaken: true,
      decidedBy: 'operating surgeon',
      toldTo: 'whole team',
    });
    expect(plain()).toContain(w('closing.state.difference'));
  });

  it('does not go on from where or why without words', async () => {
    const { press, isClosed } = await closing(broken);
    await press(/^Screw 2/);
    await press(key('closing.leave-in'));
    await press(w('closing.not-measured'));
    expect(isClosed(key('closing.go-on'))).toBe(true);
  });

  it('adds a broken tip, and finds it again [Z18]', async () => {
    const { press, session, plain, isClosed } = await closing(broken);
    await press(w('closing.damage'));
    await press('reverse-thread tap');
    expect(isClosed(key('closing.go-on'))).toBe(true);
    await press('tip broke off');
    await press(w('closing.go-on'));
    expect(isClosed(key('closing.record'))).toBe(true);
    const choose = async (group: string, name: string) => {
      const row = document.querySelector(`[role=group][aria-label="${w(group)}"]`) as HTMLElement;
      await touch(within(row).getByRole('button', { name }));
    };
    await choose('closing.tip-missing', w('closing.yes'));
    await choose('closing.kept', w('closing.yes'));
    await press(key('closing.measure-tip'));
    await press('3');
    await press(w('closing.go-on'));
    await press(w('closing.record'));
    const rows = () => accountOf(session.open()!.folded).filter(({ part }) => part === null);
    expect(rows().at(-1)).toMatchObject({ tool: 'reverse-tap', state: 'missing', metal: { unaccounted: 3 } });
    expect(plain()).toContain('3 mm open');
    await press(/^Tip of the reverse-thread tap/);
    await press(w('closing.piece-out'));
    await press('3');
    await press(w('closing.record'));
    expect(rows().at(-1)?.state).toBe('accounted');
  });

  it('takes the last entry back by name for ten seconds, as a strike [Z5]', async () => {
    const { press, entries, page, session, later } = await closing(broken);
    expect(page.queryByRole('button', { name: w('closing.take-back') })).toBeNull();
    await press(key('closing.wash'));
    await press(w('closing.washed-out'));
    await press(w('closing.take-back'));
    expect(entries().at(-1)).toMatchObject({ type: 'struck', reason: w('closing.taken-back') });
    expect(session.open()?.folded.struck).toEqual([entries().length - 1]);
    await press(key('closing.wash'));
    await press(w('closing.washed-out'));
    expect(page.getByRole('button', { name: w('closing.take-back') })).toBeTruthy();
    later(11_000);
    expect(page.queryByRole('button', { name: w('closing.take-back') })).toBeNull();
  });

  it('only shows in a window that follows another [Z25]', async () => {
    const { press, types, plain } = await closing(broken, openMemory(), false);
    await press(key('closing.wash'));
    await press(w('closing.washed-out'));
    expect(types()).not.toContain('washed-out');
    expect(plain()).toContain(w('record.follows'));
  });
});

describe('the count', () => {
  it('waits for the end of the work', async () => {
    const { isClosed } = await closing(broken);
    expect(isClosed(key('closing.count'))).toBe(true);
  });

  it('is answered by two roles and a second touch when every length adds up', async () => {
    const { press, entries, types, isClosed } = await closing(ended);
    await press(key('closing.count'));
    expect(isClosed(key('closing.count-answer'))).toBe(true);
    await press('scrub nurse');
    expect(isClosed(key('closing.count-answer'))).toBe(true);
    await press('circulating nurse');
    await press(key('closing.count-answer'));
    expect(types()).not.toContain('count-answered');
    await press(w('closing.count-yes'));
    expect(entries().at(-1)).toMatchObject({ type: 'count-answered', by: ['scrub', 'circulating'] });
  });

  it('names who was listed in a role, and enters the role', async () => {
    const people = [
      { type: 'person-listed', role: 'scrub', who: 'A. B.' },
      { type: 'person-listed', role: 'scrub', who: 'C. D.' },
      { type: 'person-listed', role: 'surgeon', who: 'E. F.' },
    ] as const;
    const [opened, ...rest] = ended;
    const { press, entries } = await closing([opened as EntryDraft, ...people, ...rest]);
    await press(key('closing.count'));
    await press('scrub nurse A. B., C. D.');
    await press('circulating nurse');
    await press(key('closing.count-answer'));
    await press(w('closing.count-yes'));
    expect(entries().at(-1)).toMatchObject({ type: 'count-answered', by: ['scrub', 'circulating'] });
    expect(JSON.stringify(entries().at(-1))).not.toContain('A. B.');
  });

  it('says which pieces it takes as whole though nobody measured them [Z18]', async () => {
    const says = w('closing.unmeasured', { pieces: '' }).slice(0, 20);
    const drafts = (recovered?: number): EntryDraft[] => [
      ...opening,
      ...moves('1', 'out', recovered === undefined ? {} : { recovered }),
      ...moves('2', 'out', { recovered: 16 }),
      plateOut,
      { type: 'work-ended' },
    ];
    const { press, plain } = await closing(drafts());
    await press(key('closing.count'));
    expect(plain()).toContain(w('closing.unmeasured', { pieces: 'Screw 1: out' }));
    cleanup();
    const measured = await closing(drafts(14));
    await measured.press(key('closing.count'));
    expect(measured.plain()).toContain(w('closing.all-accounted'));
    expect(measured.plain()).not.toContain(says);
  });

  it('cannot be passed with metal missing without words and an image [Z18]', async () => {
    const { press, isClosed, named, entries, plain, session, page } = await closing(brokenEnded);
    await press(key('closing.count'));
    expect(plain()).toContain('Screw 2');
    expect(plain()).toContain(w('closing.state.open'));
    const answer = () => page.queryByRole('button', { name: key('closing.count-answer') });
    for (const image of [null, w('closing.image.not-taken')]) {
      if (image) await press(image);
      expect(isClosed(key('closing.go-on'))).toBe(true);
      expect(named(key('closing.go-on')).textContent).toContain(w('closing.count-lacks.image'));
      await press(key('closing.go-on'));
      expect(answer()).toBeNull();
    }
    await press(w('closing.image.clear'));
    await press(key('closing.go-on'));
    expect(isClosed(key('closing.go-on'))).toBe(true);
    await press(key('closing.go-on'));
    expect(answer()).toBeNull();
    await press('taken out in small pieces');
    await press(key('closing.go-on'));
    await press('scrub nurse');
    expect(isClosed(key('closing.count-answer'))).toBe(true);
    await press(/^surgeon/);
    await press(key('closing.count-answer'));
    expect(entries().at(-1)?.type).toBe('work-ended');
    await press(w('closing.count-yes'));
    expect(entries().at(-1)).toMatchObject({
      type: 'count-answered',
      discrepancy: 'taken out in small pieces',
      image: 'clear',
    });
    expect(session.open()?.folded.case.matches({ open: { count: 'answered' } })).toBe(true);
  });

  it.each<{ by: Role[]; words: string; image: ImageFinding | null; lacks: string | null }>([
    { by: ['scrub', 'surgeon'], words: '', image: 'clear', lacks: 'words' },
    { by: ['scrub', 'surgeon'], words: '   ', image: 'metal-seen', lacks: 'words' },
    { by: ['scrub', 'surgeon'], words: 'a tip', image: null, lacks: 'image' },
    { by: ['scrub', 'surgeon'], words: 'a tip', image: 'not-taken', lacks: 'image' },
    { by: ['scrub'], words: 'a tip', image: 'clear', lacks: 'roles' },
    { by: ['scrub', 'surgeon'], words: 'a tip', image: 'not-sure', lacks: null },
  ])('with metal missing, "$words" and image $image by $by lacks $lacks [Z18]', ({ by, words, image, lacks }) => {
    expect(countLacks(by, true, words, image)).toBe(lacks);
  });

  it('is not answered by the first touch, nor by turning back', async () => {
    const { press, types } = await closing(ended);
    await press(key('closing.count'));
    await press('scrub nurse');
    await press(/^surgeon/);
    await press(key('closing.count-answer'));
    await press(w('closing.not-yet'));
    expect(types()).not.toContain('count-answered');
  });
});

describe('the end', () => {
  it('ends the work by a second touch', async () => {
    const { press, types } = await closing(broken);
    await press(key('closing.end-work'));
    await press(w('closing.end-work'));
    expect(types()).not.toContain('work-ended');
    await press(w('closing.end-yes'));
    expect(types().at(-1)).toBe('work-ended');
  });

  it('does not close a case whose count stands open, and says so [Z18]', async () => {
    const { press, isClosed, named, plain } = await closing(ended);
    await press(key('closing.close-case'));
    expect(isClosed(key('closing.close-case'))).toBe(true);
    expect(named(key('closing.close-case')).textContent).toContain(w('closing.first.count'));
    expect(plain()).toContain(w('closing.open.count'));
  });

  it('closes by a second touch and goes on to the record [Z1]', async () => {
    const count = { type: 'count-answered' as const, by: ['scrub' as const, 'surgeon' as const] };
    const { press, types, went } = await closing([...ended, count]);
    await press(key('closing.close-case'));
    await press(key('closing.close-case'));
    expect(types()).not.toContain('case-closed');
    await press(w('closing.close-yes'));
    expect(types().at(-1)).toBe('case-closed');
    expect(went).toEqual(['record']);
  });

  it('asks for an answer about shavings after metal was cut', async () => {
    const cut = [
      ...opening,
      { type: 'move-started' as const, screw: '1', move: 'drill-head-off' as const },
      { type: 'move-ended' as const, screw: '1', outcome: 'head-sheared' as const },
      { type: 'work-ended' as const },
    ];
    const { press, plain, named } = await closing(cut);
    expect(named(key('closing.wash')).textContent).toContain(w('closing.state.to-do'));
    await press(key('closing.wash'));
    await press('no shavings seen');
    await press(w('closing.not-washed'));
    expect(named(key('closing.wash')).textContent).toContain('answered');
    await press(key('closing.close-case'));
    expect(plain()).not.toContain(w('closing.open.shavings'));
  });

  it('lets a tourniquet down that is still up, also some minutes ago', async () => {
    const { press, entries, session, later } = await closing([...opening, { type: 'tourniquet', to: 'up' }]);
    later(10 * 60_000);
    await press(key('closing.numbers'));
    await press(w('closing.minutes-ago', { minutes: 5 }));
    await press(key('closing.let-down'));
    const last = entries().at(-1)!;
    expect(last).toMatchObject({ type: 'tourniquet', to: 'down' });
    expect(Date.parse(last.logged) - Date.parse(last.at)).toBe(5 * 60_000);
    expect(session.open()?.folded.late).toEqual([last.n]);
  });

  it('goes back to the table at any time', async () => {
    const { press, went } = await closing(ended);
    await press(w('closing.to-table'));
    expect(went).toEqual(['table']);
  });
});

describe('the row of pieces', () => {
  it('lays them end to end, to scale, and draws what is missing by hatching', async () => {
    const { session } = await caseWith([
      ...broken,
      { type: 'left-in', screw: '2', length: 7, lengthHow: 'difference', where: 'far wall', reason: 'deep' },
    ]);
    const [, row] = accountOf(session.open()!.folded);
    expect(isAnythingOpen([row!])).toBe(true);
    const laid = metalRow(piecesOf(row!));
    expect(laid.map(({ kind, from, length }) => [kind, from, length])).toEqual([
      ['out', 0, 6],
      // Nobody measured what stays, and no image was taken of it.
      ['missing', 6, 10],
    ]);
    const view = render(() => (
      <MetalRow
        listed={16}
        pieces={piecesOf(row!)}
        diameter={3.5}
        scale={{ length: 16, thickness: 3.5 }}
        label="screw 2"
      />
    ));
    const missing = view.container.querySelector('.metal-row-missing');
    expect([missing?.getAttribute('x'), missing?.getAttribute('width')]).toEqual(['6', '10']);
    expect(missing?.getAttribute('fill')).toMatch(/^url\(#/);
    expect(view.container.querySelectorAll('.metal-row-listed')).toHaveLength(1);
  });
});

describe('lines for the time after', () => {
  const second = async (drafts = ended) => {
    await fetchReleases(['2026.2-draft']);
    const content = loadContent('2026.2-draft') as Content;
    const page = await closing(drafts, openMemory(), true, content);
    await page.press(key('closing.close-case'));
    const said = () => page.entries().filter((entry) => entry.type === 'aftercare');
    return { ...page, content, said };
  };
  const pain = /^New pain or a give at the site/;

  it('are none under the first release', async () => {
    const { press, page } = await closing(ended);
    await press(key('closing.close-case'));
    expect(page.queryByRole('button', { name: key('closing.aftercare') })).toBeNull();
    expect(page.queryByText(w('closing.open.aftercare'))).toBeNull();
  });

  it('are asked before a case is closed, each accepted, changed or dropped by the surgeon, and none by itself', async () => {
    const { press, named, said, content, plain } = await second();
    const lines = content.aftercare.filter(({ bone }) => bone === null).length;
    expect(plain()).toContain(w('closing.open.aftercare'));
    await press(key('closing.aftercare'));
    expect(said()).toEqual([]);
    await press(pain);
    await press(w('closing.aftercare.accept'));
    expect(said()).toMatchObject([{ line: 'new-pain', state: 'accepted', calledBy: 'surgeon' }]);
    expect(named(pain).textContent).toContain(w('closing.aftercare.accepted'));
    await press(pain);
    await press(w('closing.aftercare.drop'));
    expect(said().at(-1)).toMatchObject({ line: 'new-pain', state: 'dropped' });
    await press(w('closing.back'));
    expect(plain()).toContain(w('closing.aftercare.open', { lines: lines - 1 }));
  });

  it('are changed to other words, which name the line that they stand for', async () => {
    const { press, page, said, isClosed } = await second();
    await press(key('closing.aftercare'));
    await press(pain);
    expect(isClosed(key('closing.aftercare.record-changed'))).toBe(true);
    fireEvent.input(page.getByLabelText(w('closing.aftercare.change')), { target: { value: 'Ring the ward' } });
    await press(w('closing.aftercare.record-changed'));
    expect(said()).toMatchObject([{ line: 'new-pain', text: 'Ring the ward', state: 'changed' }]);
  });

  it('take a line in own words, and a change of it drops the old one', async () => {
    const { press, page, said } = await second();
    await press(key('closing.aftercare'));
    await press(w('closing.aftercare.own'));
    fireEvent.input(page.getByLabelText(w('closing.aftercare.own')), { target: { value: 'Crutches' } });
    await press(w('closing.aftercare.own-add'));
    await press(/^Crutches/);
    fireEvent.input(page.getByLabelText(w('closing.aftercare.change')), { target: { value: 'Two crutches' } });
    await press(w('closing.aftercare.record-changed'));
    expect(said().map(({ text, state }) => [text, state])).toEqual([
      ['Crutches', 'accepted'],
      ['Crutches', 'dropped'],
      ['Two crutches', 'changed'],
    ]);
  });
});
