import { fetchReleases } from '../../content/later.ts';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { Cases } from '../../src/screens/Cases.tsx';
import { caseFile } from '../../src/session/case-file.ts';
import { readIncoming } from '../../src/session/case-import.ts';
import { content, opening, room, steadyFingers, w, type Room } from './rooms.harness.tsx';

beforeEach(steadyFingers);
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const started: EntryDraft[] = [opening, { type: 'work-started' }];
const closed: EntryDraft[] = [...started, { type: 'work-ended' }, { type: 'case-closed' }];
const bytes = (value: unknown) => new TextEncoder().encode(JSON.stringify(value));
const hand = async ({ touch }: Room, value: unknown) => {
  await touch(w('cases.import'));
  const input = document.querySelector<HTMLInputElement>('input[type=file]')!;
  const file = new File([bytes(value)], 'x.case.json', { type: 'application/json' });
  Object.defineProperty(input, 'files', { value: [file], configurable: true });
  fireEvent.change(input);
};

describe('the list of cases', () => {
  it('resumes the open case in one touch, where it stands', async () => {
    const { app, touch } = await room(Cases, { drafts: started });
    app.session.leave();
    await touch(/^Theatre 2, first/);
    expect(app.open()!.meta.caseId).toMatch(/1$/);
    expect(app.screen()).toBe('table');
  });

  it('opens the record of a past case', async () => {
    const { app, touch } = await room(Cases, { drafts: closed });
    app.session.leave();
    await touch(/^Theatre 2, first/);
    expect(app.screen()).toBe('record');
  });

  it('[Z2] shows the side as a word', async () => {
    await room(Cases, { drafts: started });
    expect(screen.getByRole('button', { name: /^Theatre 2, first/ }).textContent).toContain('LEFT');
  });

  it('draws each case with its construct, and says which screws are out, stay, or of which nobody has said', async () => {
    const listed = ['1', '2', '3'].map((screw): EntryDraft => ({
      ...{ type: 'screw-listed', screw, diameter: 5, thread: 'cortical', locking: true, drive: 'hexalobular' },
      ...{ driveSize: 25, material: 'titanium', length: 36, cortices: 2 },
    }));
    const drafts: EntryDraft[] = [
      ...[opening, ...listed, { type: 'work-started' } as const, { type: 'screw-called', screw: '1' } as const],
      { type: 'move-started', screw: '1', move: 'turn-out' },
      { type: 'move-ended', screw: '1', outcome: 'out' },
      {
        type: 'left-in',
        screw: '2',
        length: 36,
        lengthHow: 'difference',
        where: 'both cortices',
        reason: 'does no harm',
      },
      ...[{ type: 'work-ended' } as const, { type: 'case-closed' } as const],
    ];
    await room(Cases, { drafts });
    const row = screen.getByRole('button', { name: /^Theatre 2, first/ });
    await waitFor(() => expect(row.querySelector('.case-outline')).not.toBeNull());
    for (const said of [w('cases.so-many-out', { count: 1 }), w('cases.stay', { screws: '2' })])
      expect(row.textContent).toContain(said);
    expect(row.textContent).toContain(w('cases.not-said', { screws: '3' }));
    expect(row.querySelectorAll('.outline-out')).toHaveLength(1);
    expect(row.querySelectorAll('.outline-stays')).toHaveLength(1);
    expect(row.querySelectorAll('.outline-in')).toHaveLength(2);
  });

  it('says nothing of what stays before a case was read, and then no more than its entries', async () => {
    const { app } = await room(Cases, { drafts: closed });
    const row = screen.getByRole('button', { name: /^Theatre 2, first/ });
    expect(row.textContent).not.toContain(w('cases.all-out'));
    await waitFor(() => expect(row.textContent).toContain(w('cases.no-screws')));
    expect(app.session.lines()).toHaveLength(1);
  });

  it('has the cautions one touch away, and a short line of them always', async () => {
    const { touch } = await room(Cases);
    expect(screen.getByText(w('cases.always'))).toBeTruthy();
    await touch(w('cases.cautions'));
    for (const line of content.phrases.cautions) expect(screen.getByText(line)).toBeTruthy();
  });
});

describe('a new case', () => {
  it('says in an empty box that other words may stand there', async () => {
    const { touch } = await room(Cases);
    await touch(w('cases.new'));
    for (const label of ['cases.label-ask', 'cases.planned-ask'])
      expect(screen.getByLabelText(w(label)).getAttribute('placeholder')).toBe(w('cases.own-words'));
    await touch(w('cases.other-bone'));
    expect(screen.getByLabelText(w('cases.bone-which')).getAttribute('placeholder')).toBe(w('cases.bone-words'));
  });

  it('[Z2] chooses no side beforehand and does not open without one', async () => {
    const { touch } = await room(Cases);
    await touch(w('cases.new'));
    for (const button of screen.getAllByRole('button')) expect(button.getAttribute('aria-pressed')).not.toBe('true');
    await touch(/^Case of/);
    await touch('tibia');
    await touch('Plate');
    await expect(touch(/^Open the case/)).rejects.toThrow(w('cases.lack-side'));
  });

  it('opens with label, side, bone and construct, in the zone of the device, and goes to the briefing', async () => {
    const { app, touch, entries } = await room(Cases);
    await touch(w('cases.new'));
    await touch(/^Case of/);
    await touch('RIGHT');
    await touch('humerus');
    await touch('Plate');
    await touch(w('cases.other-team'));
    await touch(/^18 /);
    await touch(/^Open the case: RIGHT humerus/);
    expect(entries()).toHaveLength(1);
    expect(entries()[0]).toMatchObject({
      type: 'case-opened',
      side: 'right',
      bone: 'humerus',
      construct: 'plate',
      planned: '',
      placedBy: 'other-team',
      placedMonthsAgo: 18,
      zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    });
    expect(app.screen()).toBe('briefing');
    expect(app.open()!.meta.demo).toBe(false);
  });

  it('plays the demo case as a case of its own, marked invented', async () => {
    const { app, touch } = await room(Cases);
    await fetchReleases();
    await touch(new RegExp(`^${w('cases.demo')}`));
    await waitFor(() => expect(app.screen()).toBe('briefing'));
    expect(app.open()!.meta).toMatchObject({ demo: true, contentVersion: '2026.2-draft' });
    expect(app.open()!.folded.outOfOrder).toEqual([]);
    expect(app.session.lines()[0]!.label).toContain(w('cases.invented'));
    expect(app.open()!.folded.screws.size).toBe(8);
  });
});

describe('wiping', () => {
  it('asks twice, says how many entries go, and offers the file first', async () => {
    const here = await room(Cases, { drafts: closed });
    await here.touch(w('cases.more-of', { label: opening.label }));
    await here.touch(w('cases.wipe', { count: 4 }));
    expect(await here.stored()).toHaveLength(1);
    expect(screen.getByText(w('cases.wipe-question', { count: 4 }))).toBeTruthy();
    expect(screen.getByRole('button', { name: w('cases.export-first') })).toBeTruthy();
    await here.touch(w('cases.wipe-yes', { count: 4 }));
    expect(await here.stored()).toEqual([]);
    expect(here.app.open()).toBeNull();
  });

  it('keeps the case when the second answer is to keep it', async () => {
    const here = await room(Cases, { drafts: closed });
    await here.touch(w('cases.more-of', { label: opening.label }));
    await here.touch(w('cases.wipe', { count: 4 }));
    await here.touch(w('cases.keep'));
    expect(await here.stored()).toHaveLength(1);
  });
});

describe('a case file from elsewhere', () => {
  const foreign = async () => {
    const { app } = await room(Cases, { drafts: [{ ...opening, label: 'from elsewhere' }, { type: 'work-started' }] });
    const { meta, entries } = app.open()!;
    cleanup();
    return JSON.parse(JSON.stringify(caseFile(meta, entries))) as ReturnType<typeof caseFile>;
  };

  it('is taken in as a case of its own, sealed as it was, and twice is once', async () => {
    const file = await foreign();
    const here = await room(Cases, { drafts: started });
    await hand(here, file);
    await waitFor(() => expect(screen.getByText(new RegExp(w('cases.seals-whole')))).toBeTruthy());
    await here.touch(w('cases.back'));
    await hand(here, file);
    await waitFor(() => expect(screen.getByText(w('cases.import-known'))).toBeTruthy());
    const stored = await here.stored();
    expect(stored.map(({ entries }) => entries.length).sort()).toEqual([2, 2]);
    expect(stored.flatMap(({ entries }) => entries)).toEqual(expect.arrayContaining(file.entries));
  });

  it('never replaces what is stored, not even with a longer log of the same case', async () => {
    const file = await foreign();
    const here = await room(Cases);
    await hand(here, { ...file, entries: file.entries.slice(0, 1), head: undefined });
    await waitFor(() => expect(screen.getByText(new RegExp(w('cases.import-stored')))).toBeTruthy());
    const [before] = await here.stored();
    await here.touch(w('cases.back'));
    await hand(here, file);
    await waitFor(async () => expect(await here.stored()).toHaveLength(2));
    expect((await here.stored()).find(({ meta }) => meta.caseId === before!.meta.caseId)).toEqual(before);
  });

  it('is told from a backup, with the way to where one is brought in', async () => {
    const here = await room(Cases);
    await hand(here, { format: 'counterturn-backup', formatVersion: 1, made: '2026-02-17T08:00:00.000Z', cases: 0 });
    await waitFor(() => expect(screen.getByText(w('cases.import-backup'))).toBeTruthy());
    await here.touch(w('cases.data'));
    expect(screen.getByText(w('cases.data-twice'))).toBeTruthy();
    expect(await here.stored()).toEqual([]);
  });

  it('is refused as a whole, every fault with its place', async () => {
    const file = await foreign();
    const here = await room(Cases);
    const [first, second] = file.entries;
    await hand(here, {
      ...file,
      head: undefined,
      entries: [
        { ...first, side: 'up' },
        { ...second, n: 2, extra: 1 },
      ],
    });
    await waitFor(() => expect(screen.getByText('entries[0].side')).toBeTruthy());
    expect(screen.getByText('entries[1].extra')).toBeTruthy();
    expect(await here.stored()).toEqual([]);
  });

  it('[Z15] with a seal taken out says so before it is taken, and takes it only when told to', async () => {
    const file = await foreign();
    const { seal: _, ...first } = file.entries[0]!;
    const spoilt = { ...file, entries: [first, ...file.entries.slice(1)] };
    const here = await room(Cases);
    await hand(here, spoilt);
    await waitFor(() => expect(screen.getByText(w('cases.import-broken', { n: 1 }))).toBeTruthy());
    expect(await here.stored()).toEqual([]);
    await here.touch(w('cases.import-not'));
    expect([await here.stored(), screen.queryByText(w('cases.import-broken', { n: 1 }))]).toEqual([[], null]);
    await here.touch(w('cases.back'));
    await hand(here, spoilt);
    await waitFor(() => expect(screen.getByText(w('cases.import-broken', { n: 1 }))).toBeTruthy());
    await here.touch(w('cases.import-anyway'));
    await waitFor(() => expect(screen.getByText(new RegExp(w('cases.seals-broken')))).toBeTruthy());
    expect(await here.stored()).toHaveLength(1);
  });

  it('[Z15] whose head does not fit unsealed entries says so and writes it down', async () => {
    const file = await foreign();
    const entries = file.entries.map(({ seal: _, ...entry }) => entry);
    const here = await room(Cases);
    await hand(here, { ...file, entries });
    await here.touch(w('cases.import-anyway'));
    await waitFor(() => expect(screen.getByText(new RegExp(w('cases.seals-broken')))).toBeTruthy());
    expect((await here.stored())[0]!.entries.at(-1)).toMatchObject({ n: 3, text: w('cases.head-differs') });
  });

  it('says and writes down that its end is missing', async () => {
    const file = await foreign();
    const here = await room(Cases);
    await hand(here, { ...file, entries: file.entries.slice(0, 1) });
    await waitFor(() => expect(screen.getByText(new RegExp(w('cases.end-missing')))).toBeTruthy());
    expect((await here.stored())[0]!.entries.at(-1)).toMatchObject({ type: 'remark', text: w('cases.end-missing') });
  });

  it.each([
    ['{', '1:2'],
    ['{"format":"other"}', 'format'],
    ['{"a":1,"a":2}', 'a'],
    ['[]', 'file'],
  ])('names the place of the fault in %s', (text, path) => {
    const read = readIncoming(new TextEncoder().encode(text), []);
    expect(read.kind === 'faults' && read.faults.map((fault) => fault.path)).toContain(path);
  });
});
