/** The plan as a whole: how long, the brief sheet, tool sets, what record and films disagree about, the first help. */
import { chance, ofHundred } from '../../src/screens/forecast/outlook.ts';
import 'fake-indexeddb/auto';
import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { EntryDraft } from '../../machines/entry.ts';
import { through } from '../../machines/compute/through.ts';
import { forecasting } from '../../machines/forecast.ts';
import { readiness } from '../../machines/readiness.ts';
import { linesOf, type Page } from '../../src/record/model.ts';
import { buildRecord, note } from '../../src/record/index.ts';
import { view } from '../../machines/view.ts';
import { Briefing } from '../../src/screens/Briefing.tsx';
import { Cases } from '../../src/screens/Cases.tsx';
import { Settings } from '../../src/screens/Settings.tsx';
import { briefOf } from '../../src/screens/briefing/brief.ts';
import { planFacts } from '../../src/screens/briefing/plan-facts.ts';
import { Forecast } from '../../src/screens/forecast/Forecast.tsx';
import { helpSeen } from '../../src/screens/help/seen.ts';
import { Table } from '../../src/screens/table/Table.tsx';
import { demoDrafts } from '../../src/session/demo.ts';
import { keepRates, ratesInUse } from '../../src/session/rates.ts';
import { toolSets } from '../../src/session/tool-sets.ts';
import { content, opening, room, steadyFingers, w, type Room } from './rooms.harness.tsx';

beforeEach(steadyFingers);
afterEach(async () => {
  cleanup();
  vi.restoreAllMocks();
  await keepRates([]);
  await toolSets().keep([]);
  await helpSeen().keep(false);
});

const [demoOpening, ...demoRest] = demoDrafts('UTC');
const demo: readonly EntryDraft[] = [demoOpening, ...demoRest];
const locking: EntryDraft = {
  type: 'screw-listed',
  screw: '1',
  diameter: 3.5,
  thread: 'cortical',
  locking: true,
  drive: 'hexagonal',
  driveSize: 2.5,
  material: 'titanium',
  length: null,
  cortices: 2,
};
const told = () => document.body.textContent.replace(/\s+/g, ' ');
const type = (label: string, text: string) =>
  fireEvent.input(screen.getByLabelText(label), { target: { value: text } });
const briefIn = ({ app }: Room): Page => {
  const open = app.open()!;
  const ready = open.folded.screws.size > 0 ? readiness(open.folded) : null;
  return briefOf(app, { open, ready, outlook: through(forecasting(open.folded)) });
};
const linesIn = (page: Page, id: string): string[] =>
  page.sections
    .filter((section) => section.id === id)
    .flatMap(({ blocks }) =>
      blocks.flatMap((block) => {
        if (block.kind === 'item') return linesOf(block.value).map((line) => `${block.label}: ${line}`);
        if (block.kind === 'list') return block.items;
        return block.kind === 'text' ? [block.text] : [];
      }),
    )
    // Figures and units hang together; here any space will do.
    .map((line) => line.replaceAll('\u00a0', ' '));

describe('the forecast on the screen', () => {
  it('says how long, what stays in, and the figures of each kind of screw', async () => {
    const { app } = await room(Forecast, { drafts: demo });
    await waitFor(() => expect(told()).toContain(w('plan.p90')), { timeout: 20_000 });
    const { case: whole } = through(forecasting(app.open()!.folded));
    const stays = [whole.anyStays.mean, whole.anyStays.p10, whole.anyStays.p90].map(ofHundred);
    expect(told()).toContain(`Something stays in: about ${stays[0]} (${stays[1]}–${stays[2]}) of 100`);
    expect(screen.getByRole('img', { name: /1 in 10 ends by .*half by .*9 in 10 by/ })).toBeTruthy();
    expect(screen.getAllByRole('rowheader').map((cell) => cell.textContent)).toEqual(['1, 8', '2', '3–7']);
    expect(told()).toContain('Broken line: the 2 h 00 min planned');
    expect(told()).toContain('An estimate, no promise');
  });

  it('says that there is nothing to forecast before a screw is listed', async () => {
    await room(Forecast, { drafts: [opening] });
    expect(told()).toBe(w('plan.no-screws'));
  });

  it('has every rate it rests on one touch away, each with its status [Z9]', async () => {
    const { touch, app } = await room(Forecast, { drafts: demo });
    await waitFor(() => expect(told()).toContain(w('plan.p90')), { timeout: 20_000 });
    await touch(/^The rates this rests on/);
    const { rates } = through(forecasting(app.open()!.folded));
    const cards = [...document.querySelectorAll('.rate-cards button')];
    expect(cards).toHaveLength(rates.length);
    const statuses = cards.map((card) => card.querySelector('small')?.textContent);
    for (const status of ['seen', 'derived', 'from-memory']) expect(statuses).toContain(w(`status.${status}`));
    expect(statuses.filter((status) => status === w('status.from-memory'))).toHaveLength(
      rates.filter(({ status }) => status === 'from-memory').length,
    );
  });

  it('has nothing to rest on where no move is open', async () => {
    const { touch } = await room(Forecast, { drafts: [opening, locking] });
    await waitFor(() => expect(told()).toMatch(/Every screw out, if bone and time allow: 0 of 100/));
    await touch(/^The rates this rests on/);
    expect(document.querySelectorAll('.rate-cards button')).toHaveLength(0);
  });

  it('changes with a share that is put in, and goes back to the released ones', async () => {
    const { touch, app, entries } = await room(Forecast, { drafts: demo });
    const before = entries().length;
    const out = () => Number(/Every screw out[^:]*: about (\d+) /.exec(told())?.[1]);
    await waitFor(() => expect(out()).toBeGreaterThan(0), { timeout: 20_000 });
    const released = out();
    await touch(/^The rates this rests on/);
    await touch(/^It is out 81/);
    for (const key of ['2', '0']) await touch(key);
    await touch('Done');
    await waitFor(() => expect(told()).toContain(w('plan.kept')), { timeout: 20_000 });
    expect(ratesInUse(app).rates).toEqual([
      { move: 'turn-out', outcome: 'out', value: 0.2, status: 'entered on this device' },
    ]);
    await waitFor(() => expect(screen.getAllByText('entered on this device').length).toBeGreaterThan(0));
    await touch(/^Back to the forecast/);
    await waitFor(() => expect(out()).toBeLessThan(released), { timeout: 20_000 });
    await touch(/^The rates this rests on/);
    await touch(/^Back to the released rates/);
    await waitFor(() => expect(ratesInUse(app).from).toBe('released'), { timeout: 20_000 });
    await touch(/^Back to the forecast/);
    await waitFor(() => expect(out()).toBe(released), { timeout: 20_000 });
    expect(entries()).toHaveLength(before);
  });

  it('refuses a share that makes more than all, with its place', async () => {
    const { touch } = await room(Forecast, { drafts: demo });
    await keepRates([{ move: 'turn-out', outcome: 'out', value: 0.9 }]);
    await waitFor(() => expect(told()).toContain(w('plan.p90')), { timeout: 20_000 });
    await touch(/^The rates this rests on/);
    await waitFor(() => expect(screen.getAllByRole('button', { name: /^It slipped/ }).length).toBeGreaterThan(0));
    await touch(/^It slipped/);
    for (const key of ['5', '0']) await touch(key);
    await touch('Done');
    await waitFor(() => expect(told()).toContain('add up to more than 1'), { timeout: 20_000 });
  });

  it('is at hand at the table, with what is still to come', async () => {
    const { touch } = await room(Table, { drafts: [...demo, { type: 'work-started' }] });
    await touch(/^More/);
    await touch(/^How long still/);
    await waitFor(() => expect(told()).toMatch(/Still to come: .* – .* – /), { timeout: 20_000 });
    expect(told()).not.toContain('next move');
  });

  it('tells at the table what lies ahead of the called screw: next move, half an hour, the end', async () => {
    const drafts = [...demo, { type: 'work-started' } as const, { type: 'screw-called', screw: '3' } as const];
    const { touch, app } = await room(Table, { drafts });
    await touch(/^More/);
    await touch(/^How long still/);
    await waitFor(() => expect(told()).toContain('Screw 3, ahead'), { timeout: 20_000 });
    const { ahead } = through(forecasting(app.open()!.folded));
    const rows = [...document.querySelectorAll('.forecast-screws tbody')][0]?.querySelectorAll('tr') ?? [];
    const first = [...rows].map((row) => row.querySelector('td')?.textContent);
    expect(first).toEqual((['next', 'soon', 'end'] as const).map((one) => chance(app, ahead['3']![one].out)));
    expect([...rows].map((row) => row.querySelector('th')?.firstChild?.textContent)).toEqual([
      ...['next move', 'next 30 min', 'to the end'],
    ]);
  });
});

describe('the brief sheet', () => {
  it('has the metal, what was agreed, the forecast and the consent of the plan', async () => {
    const here = await room(Briefing, { drafts: demo });
    const page = briefIn(here);
    expect(page.sections.map(({ id }) => id)).toEqual([
      'metal',
      'dead-ends',
      'bring',
      'forecast',
      'bone',
      'limits',
      'consent',
      'differ',
      'facts',
      'people',
      'gaps',
    ]);
    expect(linesIn(page, 'metal')).toContain(
      'Screw 3–7: 5 locking, hexalobular 25, titanium, both walls; length 36, 36, 34, 34, 38 mm',
    );
    expect(linesIn(page, 'bone')).toEqual(['Outer diameter / cortex: Whole bone: 27 / 5 mm, measured']);
    expect(linesIn(page, 'limits')).toContain('Theatre time planned: 2 h 00 min');
    expect(linesIn(page, 'consent')[0]).toContain('The bone may break');
    expect(linesIn(page, 'forecast')[0]).toMatch(/^Whole operation: 1 in 10 ends by /);
    expect(linesIn(page, 'people')).toContain('surgeon: invented surgeon');
  });

  it('names the driver that is lacking, by form and by size, though nothing has failed yet [Z21]', async () => {
    const driver = (size: number): EntryDraft => ({
      type: 'tool-in-room',
      tool: 'driver-hexagonal',
      present: true,
      size,
    });
    const line = 'Screw 1: nothing here is known to turn it even as it sits. Bring: hexagonal driver of its size.';
    const none = await room(Briefing, { drafts: [opening, locking] });
    expect(linesIn(briefIn(none), 'dead-ends')).toContain(line);
    cleanup();
    const other = await room(Briefing, { drafts: [opening, locking, driver(3.5)] });
    expect(linesIn(briefIn(other), 'dead-ends')).toContain(line);
    fireEvent.click(screen.getByRole('button', { name: /^Start/ }));
    expect(told()).toContain(line);
    cleanup();
    const matched = await room(Briefing, { drafts: [opening, locking, driver(2.5)] });
    expect(linesIn(briefIn(matched), 'dead-ends')).not.toContain(line);
  });

  it('names dead ends with what opens them, a line for who brings it, and what is not recorded or assumed [Z21]', async () => {
    const here = await room(Briefing, {
      drafts: [opening, locking, { type: 'bone-measured', outer: 24, cortex: 5, source: 'assumed' }],
    });
    const page = briefIn(here);
    const ends = linesIn(page, 'dead-ends');
    expect(ends[0]).toBe(content.phrases.holds['hard-metal'].help);
    expect(ends).toContainEqual(expect.stringMatching(/^Screw 1, .*: no way on\. Opened by: /));
    const bring = readiness(here.app.open()!.folded).bring;
    expect(linesIn(page, 'bring').slice(0, bring.length)).toEqual(
      bring.map((id) => `${content.phrases.tools[id].label}: ______________________`),
    );
    expect(linesIn(page, 'bone')[0]).toContain('ASSUMED');
    expect(linesIn(page, 'bring').at(-1)).toBe('In the room by the list: not recorded');
    expect(linesIn(page, 'limits')[0]).toContain('(preset, not agreed yet)');
    expect(linesIn(page, 'gaps')[0]).toContain('surgeon');
    expect(linesIn(page, 'gaps')[1]).toContain('length of screw 1');
    expect(linesIn(page, 'people')).toEqual([w('briefing.not-recorded')]);
  });

  it('is read on the screen before it is printed, side and bone at its head [Z2]', async () => {
    const print = vi.fn();
    vi.stubGlobal('print', print);
    const { touch } = await room(Briefing, { drafts: demo, demo: true });
    await touch(/^Start/);
    await touch(/^Brief sheet/);
    await waitFor(() => expect(told()).toContain('Whole operation: 1 in 10'));
    await touch('Print this page');
    expect(print).toHaveBeenCalledTimes(1);
    const paper = document.querySelector('.brief-paper')?.textContent ?? '';
    expect(paper).toMatch(/^LEFT tibia · INVENTED: plate, 8 screws · case [0-9a-f]{8} · INVENTED/);
    vi.unstubAllGlobals();
  });
});

describe('what the trade says of a plan', () => {
  it('is told only as far as it applies, each with its source or status', async () => {
    const plain = await room(Briefing, { drafts: [opening, { ...locking, locking: false, drive: 'hexalobular' }] });
    expect(planFacts(plain.app.open()!.folded, w)).toEqual([w('short-anaesthetic')]);
    cleanup();
    const hard = await room(Briefing, {
      drafts: [
        { ...opening, placedBy: 'other-team', placedMonthsAgo: 40 },
        locking,
        { ...locking, screw: '2', diameter: 5 },
      ],
    });
    const facts = planFacts(hard.app.open()!.folded, w);
    expect(facts).toHaveLength(7);
    for (const fact of facts) expect(fact).toMatch(/no source\)\.$|\(.*\d{4}.*\)\.$/);
    expect(facts[0]).toMatch(/^Screw 1, 2: From most to least easily stripped/);
    expect(facts[4]).toContain('40 months');
  });
});

describe('where record and films disagree', () => {
  it('is entered for a screw, and stands on the plan, on the brief sheet and in the record', async () => {
    const here = await room(Briefing, { drafts: demo });
    await here.touch(w('briefing.pick'));
    await here.touch(/^3 /);
    await here.touch(/^Record and films disagree/);
    type(w('plan.record-says'), '36 mm long');
    expect(screen.getByRole('button', { name: /^Enter/ }).getAttribute('aria-disabled')).toBe('true');
    await here.touch('shorter');
    await here.touch('Enter');
    const line = 'screw 3: the record says 36 mm long; the films show shorter.';
    expect(here.entries().at(-1)).toMatchObject({ type: 'remark', text: `Record and films disagree, ${line}` });
    expect(linesIn(briefIn(here), 'differ')).toEqual([line]);
    await here.touch('Back');
    await here.touch(/^Start/);
    expect(screen.getByRole('region', { name: w('plan.disagree') }).textContent).toContain(line);
    const { folded } = here.app.open()!;
    const text = note('text', buildRecord(here.entries(), folded, view(folded), content), content);
    expect(text.replace(/\s+/g, ' ')).toContain(`Record and films disagree, ${line}`);
  });

  it('goes when its entry is struck', async () => {
    const here = await room(Briefing, { drafts: demo });
    await here.touch(/^Start/);
    await here.touch(/^Record, films/);
    await here.touch('another number of screws', 1);
    await here.touch('as it is listed here');
    await here.touch('Enter');
    expect(linesIn(briefIn(here), 'differ')).toEqual([
      'the metal as a whole: the record says as it is listed here; the films show another number of screws.',
    ]);
    await here.touch(/^Take back/);
    expect(linesIn(briefIn(here), 'differ')).toEqual([w('plan.brief.none-differ')]);
  });
});

describe('the tool sets of a department', () => {
  it('are saved with their real sizes and brought into a new case by one touch', async () => {
    const first = await room(Briefing, { drafts: demo });
    await first.touch(/^Tools/);
    await first.touch(/^Tool sets/);
    await first.touch(/^Save what is in the room/);
    type(w('plan.set-name'), 'Plates, theatre 2');
    await first.touch('Save the set');
    await waitFor(() => expect(told()).toContain('Kept on this device: Plates, theatre 2'));
    const had = first.app.open()!.folded.case.context.room.tools;
    cleanup();

    const second = await room(Briefing, { drafts: [opening] });
    await second.touch(/^Tools/);
    const before = second.touches();
    await second.touch(/^Bring in: Plates, theatre 2/);
    expect(second.touches() - before).toBe(1);
    expect(second.app.open()!.folded.case.context.room.tools).toEqual(had);
    expect(
      second
        .entries()
        .slice(1)
        .every(({ type }) => type === 'tool-in-room'),
    ).toBe(true);
    await second.touch(/^Take back/);
    expect(second.app.open()!.folded.case.context.room.tools).toEqual([]);
  });

  it('get another name, never that of another set, and go after being asked twice', async () => {
    await toolSets().keep([
      { name: 'Plates', tools: [{ tool: 'gouge' }] },
      { name: 'Nails', tools: [{ tool: 'pick' }] },
    ]);
    const { touch, entries } = await room(Briefing, { drafts: [opening] });
    await touch(/^Tools/);
    await touch(/^Tool sets/);
    await touch(/^Plates/);
    await touch(/^Give it another name/);
    type(w('plan.set-name'), 'Nails');
    await waitFor(() => expect(told()).toContain(w('plan.name-taken')));
    type(w('plan.set-name'), 'Small plates');
    await touch(/^Take this name/);
    await waitFor(() =>
      expect(
        toolSets()
          .value()
          .map(({ name }) => name),
      ).toEqual(['Small plates', 'Nails']),
    );
    await touch(/^Nails/);
    await touch(/^Remove this set/);
    await touch('Keep it');
    expect(toolSets().value()).toHaveLength(2);
    await touch(/^Remove this set/);
    await touch(/^Yes, remove it/);
    await waitFor(() =>
      expect(
        toolSets()
          .value()
          .map(({ name }) => name),
      ).toEqual(['Small plates']),
    );
    expect(entries()).toHaveLength(1);
  });

  it('are taken in from a file, or refused with every fault', async () => {
    const { touch } = await room(Briefing, { drafts: [opening] });
    await touch(/^Tools/);
    await touch(/^Tool sets/);
    const bring = (value: object) => {
      const chooser = screen.getByLabelText(w('plan.set-bring'), { selector: 'input' });
      const file = new File([JSON.stringify(value)], 'set.json', { type: 'application/json' });
      Object.defineProperty(chooser, 'files', { value: [file], configurable: true });
      fireEvent.change(chooser);
    };
    const good = { format: 'counterturn-tool-set', formatVersion: 1, name: 'Lent', tools: [{ tool: 'punch' }] };
    bring({ ...good, tools: [{ tool: 'punch', sharp: true }] });
    await waitFor(() => expect(told()).toContain('tools[0].sharp: unknown field'));
    expect(toolSets().value()).toEqual([]);
    bring(good);
    await waitFor(() => expect(toolSets().value()).toEqual([{ name: 'Lent', tools: [{ tool: 'punch' }] }]));
  });
});

describe('how the work goes', () => {
  it('is offered once in one line of the case list, and shown in six steps that can be left at any of them', async () => {
    const { touch } = await room(Cases);
    await touch(/^Show it/);
    expect(told()).toContain('1 of 6');
    await touch('Next');
    expect(told()).toContain(w('plan.help.2.title'));
    await touch('Enough');
    await waitFor(() => expect(screen.queryByText(w('plan.help.offer'), { exact: false })).toBeNull());
    expect(screen.getByRole('button', { name: /^New case/ })).toBeTruthy();
  });

  it('is gone for good with “not now”, and found again in the settings', async () => {
    const first = await room(Cases);
    await first.touch('Not now');
    await waitFor(() => expect(screen.queryByText(w('plan.help.offer'), { exact: false })).toBeNull());
    cleanup();
    await room(Cases);
    expect(screen.queryByText(w('plan.help.offer'), { exact: false })).toBeNull();
    cleanup();
    const { touch } = await room(Settings);
    await touch(/^About/);
    await touch(w('plan.help.title'));
    for (let step = 1; step < 6; step++) await touch('Next');
    expect(told()).toContain('6 of 6');
    await touch('To work');
    expect(told()).not.toContain('6 of 6');
  });

  it('takes under a minute to read at 200 words a minute (customary for slow silent reading, from memory)', () => {
    const words = Array.from(
      { length: 6 },
      (_, i) => `${w(`plan.help.${i + 1}.title`)} ${w(`plan.help.${i + 1}.text`)}`,
    );
    const count = words.join(' ').split(/\s+/).length;
    expect(count).toBeGreaterThan(60);
    expect(count).toBeLessThan(200);
  });
});
