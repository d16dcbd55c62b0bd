import { cleanup, fireEvent, screen, within } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { noteFields } from '../ids.ts';
import { readCase } from '../../machines/case-file.ts';
import { loadContent } from '../../content/catalog.ts';
import { openMemory } from '../../src/store/memory.ts';
import { Record } from '../../src/screens/Record.tsx';
import { fileOf, outputKinds } from '../../src/screens/record/outputs.ts';
import { recordOf, timelineRows } from '../../src/screens/record/record-of.ts';
import { easyPlate } from '../record/cases.ts';
import { broke, caseWith, content, moves, opening, settled, touch, useClock, w } from './closing-kit.tsx';

beforeEach(useClock);
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
});

const left = {
  type: 'left-in' as const,
  screw: '2',
  length: 10,
  lengthHow: 'difference' as const,
  where: 'far wall',
  reason: 'too deep',
  imageTaken: true,
};
const plateOut = { type: 'part-ended' as const, part: 'plate', end: 'out' as const, complete: true };
const done = [
  ...opening,
  ...moves('1', 'out', { recovered: 14 }),
  ...broke('2', 6),
  left,
  plateOut,
  { type: 'work-ended' as const },
];
const count = { type: 'count-answered' as const, by: ['scrub' as const, 'surgeon' as const] };
const closed = [...done, count, { type: 'case-closed' as const }];
const signed = { type: 'signed' as const, who: 'Surgeon A', role: 'surgeon' as const, meaning: 'read and agreed' };

async function record(drafts: typeof opening, log = openMemory()) {
  const kit = await caseWith(drafts, log);
  const page = kit.show(() => <Record />);
  const main = page.container.querySelector('main') as HTMLElement;
  const named = (name: string | RegExp) => within(main).getByRole('button', { name });
  const press = (name: string | RegExp) => touch(named(name));
  const isClosed = (name: string | RegExp) => named(name).getAttribute('aria-disabled') === 'true';
  const plain = () => (main.textContent ?? '').replaceAll('\u00a0', ' ');
  const paper = () => (document.querySelector('.print-paper')?.textContent ?? '').replaceAll('\u00a0', ' ');
  const group = (label: string) => within(main.querySelector(`[role=group][aria-label="${label}"]`) as HTMLElement);
  return { ...kit, page, main, named, press, isClosed, plain, paper, group };
}
const starts = (word: string) => new RegExp(`^${w(word).replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}`);
const tab = (name: string) => w(`record.tab.${name}`);

describe('the note on the screen', () => {
  it('says what is still in at its head, and piece by piece before any annex [Z20]', async () => {
    const { main } = await record(done);
    const sections = [...main.querySelectorAll('.paper-section')].map((one) => (one as HTMLElement).dataset['section']);
    expect(sections[0]).toBe('head');
    expect(main.querySelector('[data-section=head] [data-item=stays]')?.textContent).toContain('screw 2');
    expect(sections.indexOf('stays-in')).toBeGreaterThan(0);
    expect(sections.indexOf('stays-in')).toBeLessThan(sections.indexOf('annexes'));
    expect(main.querySelector('[data-section=stays-in]')?.textContent).toContain('far wall');
  });

  it('names what nobody entered as not recorded, never as none [Z21]', async () => {
    const { main, session } = await record(done);
    const silent = recordOf(session.open()!)
      .sections.filter(({ id }) => id === 'operation')
      .flatMap(({ blocks }) =>
        blocks.flatMap((block) => (block.kind === 'item' && block.value.state === 'not-recorded' ? [block.label] : [])),
      );
    expect(silent.length).toBeGreaterThan(10);
    const named = main.querySelector('[data-section=operation] [data-item=silent]');
    expect(named?.firstElementChild?.textContent).toBe('Not recorded');
    expect(named?.lastElementChild?.textContent?.split('; ')).toEqual(silent);
    const items = [...main.querySelectorAll('.paper-item')] as HTMLElement[];
    expect(items.every((one) => one.lastElementChild?.textContent?.trim())).toBe(true);
    for (const one of items.filter(({ dataset }) => dataset['state'] === 'not-recorded'))
      expect(one.lastElementChild?.textContent).toBe('not recorded');
  });

  it('is a draft until it is signed, and says so on screen and on paper', async () => {
    const { plain, paper } = await record(done);
    expect(plain()).toContain(w('record.status.draft'));
    expect(document.querySelector('.print-draft')?.textContent).toBe(w('record.draft'));
    expect(paper()).toContain(w('record.status.draft'));
    cleanup();
    const after = await record([...closed, signed]);
    expect(document.querySelector('.print-draft')).toBeNull();
    expect(after.plain()).not.toContain(w('record.status.draft'));
  });

  it('has every entry in its timeline, struck and late ones marked [Z15] [Z16] [Z24]', async () => {
    const kit = await caseWith(done);
    await kit.session.record({ type: 'images', shots: 3 }, { minutesAgo: 12 });
    await kit.session.record({ type: 'struck', entry: 9, reason: 'wrong screw' });
    const rows = timelineRows(recordOf(kit.session.open()!));
    expect(rows.map(({ n }) => n).sort((a, b) => a - b)).toEqual(kit.entries().map(({ n }) => n));
    kit.show(() => <Record />);
    const lines = [...document.querySelectorAll('main .paper-timeline li')].map((one) => one.textContent ?? '');
    expect(lines).toHaveLength(kit.entries().length);
    expect(lines.filter((line) => line.includes('LATE'))).toHaveLength(1);
    expect(document.querySelectorAll('main .paper-timeline s')).toHaveLength(1);
  });

  it('carries side, case and the caution on the head of every sheet [Z2] [Z19] [Z24]', async () => {
    const { paper } = await record(done);
    const head = document.querySelector('.print-paper thead')?.textContent ?? '';
    for (const part of ['RIGHT fibula', 'Theatre 2, second case', 'case 6f1d2c3b', w('record.status.draft')])
      expect(head).toContain(part);
    expect(paper()).toContain(w('closing.not-official'));
    expect(paper()).toContain(`The log holds ${done.length} entries`);
  });
});

describe('what was done, on the screen', () => {
  const clipboard = (writeText: (text: string) => Promise<void>) =>
    void vi.spyOn(navigator, 'clipboard', 'get').mockReturnValue({ writeText } as unknown as Clipboard);

  it('is copied as text alone, sentence by sentence', async () => {
    const copied: string[] = [];
    const { press, plain, session } = await record(done);
    clipboard((text) => Promise.resolve(void copied.push(text)));
    await press(w('record.copy-done'));
    const { done: said } = recordOf(session.open()!).facts;
    expect(said.length).toBeGreaterThan(2);
    expect(copied).toEqual([said.map(({ text }) => text).join(' ')]);
    expect(plain()).toContain(w('record.copied', { what: w('record.done') }));
  });

  it('says so when the browser refuses', async () => {
    const { press, plain } = await record(done);
    clipboard(() => Promise.reject(new DOMException('no', 'NotAllowedError')));
    await press(w('record.copy-done'));
    expect(plain()).not.toContain(w('record.copied', { what: w('record.done') }));
    expect(document.querySelector('.copy-done [role=status]')?.textContent).not.toBe('');
  });

  it('has a picture of time whose bars tell their entries, by touch and by the arrow keys', async () => {
    const { main, session } = await record(done);
    const frame = main.querySelector('.when-frame') as HTMLElement;
    const told = () => [...main.querySelectorAll('.when-told li')].map((one) => one.textContent ?? '');
    expect(told()).toEqual([]);
    fireEvent.keyDown(frame, { key: 'ArrowRight' });
    await settled();
    const rows = timelineRows(recordOf(session.open()!));
    expect(told().length).toBeGreaterThan(0);
    for (const line of told())
      expect(rows.some(({ n, sentence }) => line.includes(`(${n})`) && line.includes(sentence))).toBe(true);
    const first = told();
    fireEvent.keyDown(frame, { key: 'ArrowRight' });
    await settled();
    expect(told()).not.toEqual(first);
    fireEvent.keyDown(frame, { key: 'ArrowLeft' });
    await settled();
    expect(told()).toEqual(first);
  });
});

describe('filling in', () => {
  it('shows every item by name with what it says, and counts what is open [Z21]', async () => {
    const { press, main, plain } = await record(done);
    await press(tab('fill-in'));
    const fields = [...main.querySelectorAll('.field')].map((one) => one.textContent ?? '');
    for (const field of noteFields)
      expect(fields.some((text) => text.startsWith(content.phrases.noteFields[field]))).toBe(true);
    expect(fields.find((text) => text.startsWith('Incision'))).toContain('not recorded');
    expect(plain()).toMatch(/\d+ of 19 items are not recorded/);
  });

  it('takes offered or typed words, and shows them only once they are written', async () => {
    const log = openMemory();
    const { press, plain, types } = await record(done, log);
    const append = log.append.bind(log);
    let release: () => void = () => undefined;
    log.append = (caseId, entry) => new Promise((ok) => (release = () => void append(caseId, entry).then(ok)));
    await press(tab('fill-in'));
    await press(/^Incision/);
    await press('through the old scar');
    await press(w('closing.record'));
    expect(types().at(-1)).toBe('work-ended');
    release();
    await settled();
    expect(types().at(-1)).toBe('note-field');
    expect(plain()).toContain('through the old scar');
  });

  it('tells "not applicable" from "not recorded" [Z21]', async () => {
    const { press, entries, main } = await record(done);
    await press(tab('fill-in'));
    await press(/^Drains/);
    await press(w('record.not-applicable'));
    expect(entries().at(-1)).toMatchObject({ type: 'note-field', field: 'drains', notApplicable: true });
    const drains = [...main.querySelectorAll('.field')].find((one) => one.textContent?.startsWith('Drains'));
    expect(drains?.textContent).toContain('not applicable');
  });

  it('records what the patient was told, by whom and of what, in order [Z20]', async () => {
    const { press, entries, isClosed } = await record(closed);
    await press(tab('fill-in'));
    await press(starts('record.told'));
    await press('MRI');
    await press('material');
    expect(isClosed(starts('closing.record'))).toBe(true);
    await press(w('record.told-later'));
    await press('Surgeon A');
    await press(w('closing.record'));
    expect(entries().at(-1)).toMatchObject({
      type: 'patient-told',
      state: 'to-be-told',
      by: 'Surgeon A',
      points: ['material', 'mri'],
    });
  });
});

describe('corrections', () => {
  it('strike an entry with a reason; it stays legible [Z15]', async () => {
    const { press, entries, main, isClosed, named } = await record(done);
    await press(tab('timeline'));
    await press(w('record.strike-this', { n: 9 }));
    expect(isClosed(starts('record.strike-yes'))).toBe(true);
    expect(named(starts('record.strike-yes')).textContent).toContain(w('record.reason-first'));
    await press('wrong screw');
    await press(w('record.strike-yes'));
    expect(entries().at(-1)).toMatchObject({ type: 'struck', entry: 9, reason: 'wrong screw' });
    const struck = [...main.querySelectorAll('.entry[data-struck]')];
    expect(struck).toHaveLength(1);
    expect(struck[0]?.querySelector('s')?.textContent).toBeTruthy();
    expect(within(struck[0] as HTMLElement).queryByRole('button')).toBeNull();
  });

  it('leave a closed case as it is, but for reopening it, asked twice with a reason [Z1]', async () => {
    const { press, entries, main, types, session } = await record(closed);
    await press(tab('timeline'));
    const strikes = [...main.querySelectorAll('.entry button')];
    expect(strikes.map((one) => one.textContent)).toEqual([w('record.reopen')]);
    await touch(strikes[0]!);
    await press('entry missing');
    await press(w('record.reopen'));
    expect(types().at(-1)).toBe('case-closed');
    await press(w('record.reopen-yes'));
    expect(entries().at(-1)).toMatchObject({ type: 'struck', entry: closed.length, reason: 'entry missing' });
    expect(session.open()?.folded.case.matches('closed')).toBe(false);
  });

  it('refuse anything else after closing, in words [Z1]', async () => {
    const { session, types } = await record(closed);
    const before = types().length;
    const outcome = await session.record({ type: 'images', shots: 1 });
    expect(outcome.ok).toBe(false);
    expect(types()).toHaveLength(before);
  });

  it('are an addendum or a correction once the record is signed', async () => {
    const { press, entries, main, plain, isClosed } = await record([...closed, signed]);
    await press(tab('fill-in'));
    const incision = [...main.querySelectorAll('.field')].find((one) => one.textContent?.startsWith('Incision'));
    expect(incision?.getAttribute('aria-disabled')).toBe('true');
    await press(starts('record.add-signed'));
    const area = main.querySelector('textarea') as HTMLTextAreaElement;
    area.value = 'Film on the ward shows the piece in place.';
    area.dispatchEvent(new Event('input', { bubbles: true }));
    expect(isClosed(starts('closing.record'))).toBe(true);
    await press(starts('record.addendum'));
    await press(w('closing.record'));
    expect(entries().at(-1)).toMatchObject({ type: 'remark', kind: 'addendum' });
    await press(tab('note'));
    expect(plain()).toContain(w('record.status.amended'));
  });
});

describe('signing', () => {
  it('asks who, as what and what it means, names the gaps, and takes two touches [Z21]', async () => {
    const { press, entries, isClosed, plain, types } = await record(closed);
    await press(starts('record.sign'));
    expect(plain()).toContain(w('record.gaps'));
    expect(plain()).toContain('Incision');
    const sign = () =>
      [...document.querySelectorAll('.twice .touch')].find((one) => one.textContent?.startsWith(w('record.sign')))!;
    expect(sign().getAttribute('aria-disabled')).toBe('true');
    await press(/^Surgeon A/);
    // The role is that of the list: it is not asked for again.
    expect(document.querySelector(`[role=group][aria-label="${w('record.role')}"]`)).toBeNull();
    await press('read and agreed');
    await touch(sign());
    expect(types()).not.toContain('signed');
    await press(w('record.sign-yes'));
    expect(entries().at(-1)).toMatchObject(signed);
    expect(entries().at(-1)).not.toHaveProperty('loggedBy');
    expect(isClosed(tab('note'))).toBe(false);
    expect(document.querySelector('.print-draft')).toBeNull();
  });

  const signs = async (press: (name: string | RegExp) => Promise<unknown>) => {
    const first = [...document.querySelectorAll('.twice .touch')].find((one) =>
      one.textContent?.startsWith(w('record.sign')),
    );
    await touch(first as HTMLElement);
    await press(w('record.sign-yes'));
  };
  const types = async (name: string) => {
    fireEvent.input(document.querySelector('.closing-form textarea') as HTMLTextAreaElement, {
      target: { value: name },
    });
    await settled();
  };

  it('takes a name typed by hand of somebody who is not listed, with a role, and says before and after that it was', async () => {
    const { press, entries, plain, paper } = await record(closed);
    await press(starts('record.sign'));
    expect(plain()).not.toContain(w('record.is-typed'));
    await press(w('record.somebody-else'));
    await types('R. Invented');
    expect(plain()).toContain(w('record.is-typed'));
    await press('assistant');
    await press('read and agreed');
    await signs(press);
    expect(entries().at(-1)).toMatchObject({ type: 'signed', who: 'R. Invented', role: 'assistant' });
    expect(paper()).toContain('name typed by hand, not among the people listed');
  });

  it('says of a typed name that it is one of those listed', async () => {
    const { press, plain } = await record(closed);
    await press(starts('record.sign'));
    await press(w('record.somebody-else'));
    await types(' Surgeon  A ');
    expect(plain()).toContain(w('record.is-listed', { roles: 'surgeon' }));
    expect(plain()).not.toContain(w('record.is-typed'));
  });

  it('offers two of one name apart by their roles, and one that was listed twice once', async () => {
    const { press, entries, main } = await record([
      ...opening.slice(0, 1),
      { type: 'person-listed', role: 'assistant', who: 'Surgeon A' },
      { type: 'person-listed', role: 'surgeon', who: 'Surgeon A' },
      ...closed.slice(1),
    ]);
    await press(starts('record.sign'));
    const all = [...main.querySelectorAll(`[role=group][aria-label="${w('record.who')}"] .touch`)];
    expect(all.map((one) => one.textContent)).toEqual([
      'Surgeon Aassistant',
      'Surgeon Asurgeon',
      w('record.somebody-else'),
    ]);
    await touch(all[0] as HTMLElement);
    await press('read and agreed');
    await signs(press);
    expect(entries().at(-1)).toMatchObject({ who: 'Surgeon A', role: 'assistant' });
  });

  it('stands for all that is before it, also for what is written at that touch because the log is an old one', async () => {
    const kit = await caseWith(opening);
    const { caseId } = await kit.session.bringIn('2026.1', easyPlate, false);
    kit.session.resume(caseId);
    kit.show(() => <Record />);
    const press = async (name: string | RegExp) => touch(screen.getByRole('button', { name }));
    await press(starts('record.sign'));
    await press(/^A\. Example/);
    await press('read and agreed');
    await signs(press);
    expect(kit.types().slice(-2)).toEqual(['format-raised', 'signed']);
    const text = document.querySelector('.print-paper')?.textContent ?? '';
    expect(text).toContain('The words that were signed are proven');
    expect(text).toContain('listed as surgeon in entry 2');
  });

  it('asks for a typed name at once where nobody was listed', async () => {
    const { press, main, plain } = await record(closed.filter(({ type }) => type !== 'person-listed'));
    await press(starts('record.sign'));
    expect(main.querySelector(`[role=group][aria-label="${w('record.who')}"]`)).toBeNull();
    await types('R. Invented');
    expect(plain()).toContain(w('record.is-typed'));
  });
});

describe('what is still in', () => {
  it('draws the piece in its bone to scale and says what the drawing rests on [Z20]', async () => {
    const { press, main, paper } = await record(done);
    await press(tab('still-in'));
    const drawing = main.querySelector('.still-in-drawing');
    expect(drawing?.getAttribute('aria-label')).toContain('RIGHT fibula');
    expect(main.textContent).toContain(w('record.drawing-estimate'));
    const bone = [...(drawing?.querySelectorAll('rect.bone') ?? [])].map((one) => Number(one.getAttribute('y')));
    expect([...new Set(bone)]).toEqual([0, 12]);
    // 16 mm long, 6 mm of it out: the jagged end of the piece lies 10 mm above its tip.
    const ys = [...(drawing?.querySelector('path.metal')?.getAttribute('d') ?? '').matchAll(/ (-?[\d.]+)/g)].map((m) =>
      Number(m[1]),
    );
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(10, 0);
    expect(paper()).toContain('For the patient');
    expect(paper()).toContain('Before an MRI scan');
    expect(paper()).toContain('For the next surgeon');
    expect(document.querySelectorAll('.print-paper .still-in-drawing')).toHaveLength(1);
  });

  it('can be printed alone from where the ways out stand', async () => {
    const { press, paper } = await record(done);
    const print = vi.fn();
    vi.stubGlobal('print', print);
    await press(tab('hand-over'));
    expect(paper()).toContain('Operation');
    await press(w('record.print-still-in'));
    expect(print).toHaveBeenCalledTimes(1);
    expect(paper()).toContain('For the next surgeon');
    expect(paper()).not.toMatch(/Anaesthesia|Whom to call/);
    await press(w('record.print-patient'));
    expect(print).toHaveBeenCalledTimes(2);
    expect(paper()).toContain('Whom to call');
    expect(paper()).not.toContain('For the next surgeon');
    window.dispatchEvent(new Event('afterprint'));
    expect(paper()).toContain('Anaesthesia');
  });
});

describe('handing over', () => {
  it('gives every output under a name that tells nothing of the case [Z22]', async () => {
    const { session } = await caseWith(done);
    const open = session.open()!;
    const files = outputKinds.map((kind) => fileOf(kind, open, recordOf(open)));
    expect(new Set(files.map(({ name }) => name)).size).toBe(outputKinds.length);
    for (const { name, content: text } of files) {
      expect(name).not.toMatch(/theatre|second|right|fibula|surgeon/i);
      // Of no tool was anything noted: then its list has its head alone.
      if (name.endsWith('-tools.csv')) expect(text).toBe('instrument,size,happened,to_do\r\n');
      else expect(text.length).toBeGreaterThan(100);
    }
  });

  it('gives a case file that reads back whole, with its head [Z24]', async () => {
    const { session, entries } = await caseWith(done);
    const open = session.open()!;
    const reading = readCase(JSON.parse(fileOf('case', open, recordOf(open)).content), loadContent);
    if (!('file' in reading)) throw new Error(JSON.stringify(reading.faults));
    expect(reading.seals).toEqual({ seals: 'whole', brokenAt: null });
    expect(reading.file.head).toEqual({ n: entries().length, seal: entries().at(-1)?.seal });
  });

  it('says what became of the clipboard, also when it refused', async () => {
    const { press, plain } = await record(done);
    const writeText = vi.fn<(text: string) => Promise<void>>().mockResolvedValue(undefined);
    vi.stubGlobal('navigator', { clipboard: { writeText } });
    await press(tab('hand-over'));
    await press(w('record.copy-note'));
    expect(writeText.mock.calls[0]?.[0]).toContain('WHAT STAYS IN');
    expect(plain()).toContain(w('record.copied', { what: w('record.output.text') }));
    writeText.mockRejectedValue(new Error('not allowed'));
    await press(w('record.copy-note'));
    expect(plain()).toContain('NOT SENT');
    expect(plain()).toContain('not allowed');
  });

  it('lists what goes to sterile services and what has to be replaced', async () => {
    const damaged = {
      type: 'tool-damaged' as const,
      tool: 'reverse-tap' as const,
      how: 'tip broke off',
      tipMissing: false,
    };
    const { press, main } = await record([...done, damaged]);
    await press(tab('lists'));
    expect(main.querySelectorAll('.paper-section')).toHaveLength(1);
    expect(main.textContent).toContain('Reverse-thread tap');
  });
});
