import { cleanup, fireEvent, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { consentOpen } from '../../machines/consent.ts';
import { readiness } from '../../machines/readiness.ts';
import type { EntryDraft } from '../../machines/entry.ts';
import { Briefing } from '../../src/screens/Briefing.tsx';
import { filmFactor } from '../../src/screens/bone/Bone.tsx';
import { gapsOf, lengthOffers, nextIds, nextQuestion } from '../../src/screens/briefing/plan.ts';
import { ranges } from '../../src/format/lists.ts';
import { theatreTime } from '../../src/screens/briefing/TheatreClock.tsx';
import { demoDrafts } from '../../src/session/demo.ts';
import { opening, room, steadyFingers, w } from './rooms.harness.tsx';

beforeEach(steadyFingers);
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const screw = (id: string, more: Partial<Extract<EntryDraft, { type: 'screw-listed' }>> = {}): EntryDraft => ({
  type: 'screw-listed',
  screw: id,
  diameter: 5,
  thread: 'cortical',
  locking: true,
  drive: 'hexalobular',
  driveSize: 25,
  material: 'titanium',
  length: 36,
  cortices: 2,
  ...more,
});

/** Size, drive, metal, walls, length: one touch each. */
const describeOne = async (
  touch: (name: string | RegExp) => Promise<void>,
  size: string | RegExp,
  drive: string,
  length: string,
) => {
  await touch(size);
  await touch(drive);
  await touch('titanium');
  await touch('both walls');
  await touch(length);
};

describe('the screws', () => {
  it('describes one screw in five touches and lists it at the fifth', async () => {
    const { touch, touches, entries } = await room(Briefing, { drafts: [opening] });
    await describeOne(touch, /^3\.5\s*locking/, 'hexalobular 15', '32');
    expect(touches()).toBe(5);
    expect(entries().at(-1)).toMatchObject({ ...screw('1', { diameter: 3.5, driveSize: 15, length: 32 }) });
  });

  it('lists nothing before the last fact is given', async () => {
    const { touch, entries } = await room(Briefing, { drafts: [opening] });
    await touch(/^3\.5\s*locking/);
    await touch('hexalobular 15');
    await touch('titanium');
    await touch('both walls');
    expect(entries()).toHaveLength(1);
  });

  it('describes a whole plate of twelve screws, all alike, in six touches', async () => {
    const { touch, touches, app } = await room(Briefing, { drafts: [opening] });
    await touch('12');
    await describeOne(touch, /^5\.0\s*locking/, 'hexalobular 25', '36');
    expect(touches()).toBe(6);
    expect([...app.open()!.folded.screws.keys()]).toEqual(nextIds([], 12));
  });

  it('adds five more to the first of six, nothing chosen beforehand', async () => {
    const { touch, app } = await room(Briefing, { drafts: [opening] });
    await describeOne(touch, /^3\.5\s*locking/, 'hexalobular 15', '16');
    await touch(w('briefing.several-alike'));
    expect(document.querySelector('.choice [aria-pressed="true"]')).toBeNull();
    await touch('5');
    await touch(w('briefing.same-several', { count: 5, screw: '1' }));
    expect([...app.open()!.folded.screws.keys()]).toEqual(nextIds([], 6));
  });

  it('describes twelve screws of four kinds, every length its own, in under sixty touches', async () => {
    const { touch, touches, app } = await room(Briefing, { drafts: [opening] });
    const kinds = [
      [/^5\.0\s*locking/, 'hexalobular 25'],
      [/^3\.5\s*locking/, 'hexagonal 2.5'],
      [/^4\.5\s*cortical/, 'hexagonal 3.5'],
      [/^6\.5\s*cancellous/, 'hexagonal 3.5'],
    ] as const;
    const lengths = [
      ['36', '38', '40'],
      ['28', '30', '32'],
      ['34', '36', '42'],
      ['60', '65', '70'],
    ];
    for (const [index, [size, drive]] of kinds.entries()) {
      const [first = '', ...others] = lengths[index] ?? [];
      await describeOne(touch, size, drive, first);
      for (const length of others) {
        await touch(w('briefing.same-other-length'));
        await touch(length);
      }
    }
    const listed = [...app.open()!.folded.screws.values()].map(({ context: { facts } }) => [
      facts.diameter,
      facts.length,
    ]);
    expect(listed).toEqual(
      [5, 3.5, 4.5, 6.5].flatMap((d, i) => (lengths[i] ?? []).map((length) => [d, Number(length)])),
    );
    expect(touches()).toBeLessThan(60);
    expect(touches()).toBe(4 * (5 + 2 * 2));
  });

  it('repeats the last screw in one touch', async () => {
    const { touch, touches, entries } = await room(Briefing, { drafts: [opening, screw('1')] });
    await touch(w('briefing.same', { screw: '1' }));
    expect(touches()).toBe(1);
    expect(entries().at(-1)).toMatchObject(screw('2'));
  });

  it('corrects a fact by listing the screw again, and keeps the others', async () => {
    const { touch, entries, app } = await room(Briefing, { drafts: [opening, screw('1'), screw('2')] });
    await touch(/^1 .*: screw/);
    await touch('titanium');
    await touch('steel');
    expect(entries().at(-1)).toMatchObject(screw('1', { material: 'steel' }));
    expect(app.open()!.folded.screws.size).toBe(2);
  });

  it('takes what nobody knows as not known: diameter, thread, locking, walls; it stays so when another fact is corrected', async () => {
    const { touch, entries, app } = await room(Briefing, { drafts: [opening] });
    const other = w('briefing.other');
    await touch('1');
    await touch(other);
    await touch(w('briefing.not-known'));
    await touch(w('briefing.kind.maybe-locking', { kind: w('briefing.kind.thread-unknown') }));
    await touch('form unknown');
    for (const what of [/^titanium/, w('briefing.not-known'), w('briefing.not-known')]) await touch(what);
    const unknown = { diameter: null, thread: null, locking: null, cortices: null, length: null };
    expect(entries().at(-1)).toMatchObject({ type: 'screw-listed', screw: '1', ...unknown });
    await touch(/^1 .*: screw/);
    await touch('titanium');
    await touch(w('briefing.cobalt-chromium'));
    expect(entries().at(-1)).toMatchObject({ ...unknown, material: 'cobalt-chromium' });
    await touch(w('briefing.another-screw'));
    await touch(w('briefing.same', { screw: '1' }));
    expect(entries().at(-1)).toMatchObject({ screw: '2', ...unknown });
    const gaps = gapsOf(app.open()!).filter(({ screws }) => screws.length === 2);
    expect(gaps.map(({ key }) => key.slice('briefing.gap.'.length))).toEqual(
      expect.arrayContaining(['size', 'locking', 'cortices', 'length']),
    );
  });

  it('takes form and washer from those who know, and asks nobody for them', async () => {
    const { touch, entries } = await room(Briefing, { drafts: [opening, screw('1')] });
    await touch(/^1 .*: screw/);
    await touch(w('briefing.ask.form'));
    await touch(w('briefing.form.headless'));
    expect(entries().at(-1)).toMatchObject(screw('1', { form: 'headless' }));
    await touch(w('briefing.form.headless'));
    await touch(w('briefing.washer'));
    await touch('titanium');
    await touch('steel');
    expect(entries().at(-1)).toMatchObject(screw('1', { form: 'headless', washer: true, material: 'steel' }));
    await touch(new RegExp(w('briefing.form.headless')));
    await touch(w('briefing.not-known'));
    expect(entries().at(-1)).not.toHaveProperty('form');
  });

  it('takes a screw off the list by striking its entries, with a reason', async () => {
    const { touch, entries, app } = await room(Briefing, { drafts: [opening, screw('1'), screw('2')] });
    await touch(/^2 .*: screw/);
    await touch(w('briefing.take-off-list', { screw: '2' }));
    expect(entries().at(-1)).toMatchObject({ type: 'struck', entry: 3, reason: w('briefing.listed-by-mistake') });
    expect([...app.open()!.folded.screws.keys()]).toEqual(['1']);
  });

  it('lets a listed screw only be said to be worse, never better', async () => {
    const { touch, app } = await room(Briefing, { drafts: [opening, screw('1', { stage: 'head-sheared' })] });
    await touch(/^1 .*: screw/);
    await touch('head gone');
    await expect(touch(/^whole/)).rejects.toThrow(w('briefing.only-worse'));
    await touch('Broken deep, one piece left');
    expect(app.view()!.screws['1']!.stage).toBe('fragment-retained');
  });

  it('takes back at once what one touch entered, all twelve together', async () => {
    const { touch, app, entries } = await room(Briefing, { drafts: [opening] });
    await touch('12');
    await describeOne(touch, /^5\.0\s*locking/, 'hexalobular 25', '36');
    await touch(w('briefing.take-back'));
    expect(app.open()!.folded.screws.size).toBe(0);
    expect(entries().filter(({ type }) => type === 'struck')).toHaveLength(12);
  });
});

describe('the bone', () => {
  it('takes the tabled figures as assumed in one touch', async () => {
    const { touch, entries } = await room(Briefing, { drafts: [opening] });
    await touch(/^Bone/);
    await touch(/from memory/);
    expect(entries().at(-1)).toMatchObject({ type: 'bone-measured', outer: 24, cortex: 5, source: 'assumed' });
  });

  it('enters a measured bone only once both figures and their source are given', async () => {
    const { touch, entries } = await room(Briefing, { drafts: [opening] });
    await touch(/^Bone/);
    for (const key of ['2', '7', w('briefing.done'), '5', w('briefing.done')]) await touch(key);
    expect(entries()).toHaveLength(1);
    await touch(w('briefing.measured-film'));
    expect(entries().at(-1)).toMatchObject({ type: 'bone-measured', outer: 27, cortex: 5, source: 'measured' });
  });

  it('refuses a cortex of half the diameter before it comes to the log', async () => {
    const { touch } = await room(Briefing, { drafts: [opening] });
    await touch(/^Bone/);
    for (const key of ['1', '0', w('briefing.done'), '5', w('briefing.done')]) await touch(key);
    await expect(touch(new RegExp(w('briefing.measured-film')))).rejects.toThrow(w('briefing.bone-too-thick'));
  });

  it('scales what was read off a film by something of known size, and writes the scale down', async () => {
    const { touch, entries } = await room(Briefing, { drafts: [opening] });
    await touch(/^Bone/);
    await touch(/^Film/);
    for (const key of ['2', '5', w('briefing.done'), '2', '7', '.', '5', w('briefing.done')]) await touch(key);
    expect(entries().at(-1)).toMatchObject({ type: 'remark', text: expect.stringContaining('factor 0.909') });
    for (const key of ['2', '9', w('briefing.done'), '5', '.', '5', w('briefing.done')]) await touch(key);
    await touch(w('briefing.measured-film'));
    expect(entries().at(-1)).toMatchObject({ outer: 26.4, cortex: 5, source: 'measured' });
  });

  it('measures one level of its own', async () => {
    const { touch, entries } = await room(Briefing, { drafts: [opening, screw('1'), screw('2')] });
    await touch(/^Bone/);
    await touch(/^Where/);
    await touch('2');
    await touch(/from memory/);
    expect(entries().at(-1)).toMatchObject({ type: 'bone-measured', screw: '2' });
  });
});

describe('the tools', () => {
  it('ticks a tool in one touch and unticks it in one more', async () => {
    const { touch, entries, app } = await room(Briefing, { drafts: [opening, screw('1')] });
    await touch(/^Tools/);
    await touch(/^mallet/);
    expect(entries().at(-1)).toMatchObject({ type: 'tool-in-room', tool: 'mallet', present: true });
    await touch(/^mallet/);
    expect(app.open()!.folded.case.context.room.tools).toEqual([]);
  });

  it('asks for which screws a drill fits, and enters each by itself', async () => {
    const { touch, app } = await room(Briefing, { drafts: [opening, screw('1'), screw('2', { diameter: 3.5 })] });
    await touch(/^Tools/);
    await touch(/^hard-metal drill/);
    await touch(w('briefing.for-screw', { diameter: 3.5 }));
    expect(app.open()!.folded.case.context.room.tools.map(({ tool, fits }) => [tool, fits])).toEqual([
      ['hard-metal-drill', [3.5]],
    ]);
  });

  it('says beside a tool why it matters and which dead ends of this plan it opens', async () => {
    const { touch, app } = await room(Briefing, { drafts: [opening, screw('1'), screw('2')] });
    await touch(/^Tools/);
    const { deadEnds } = readiness(app.open()!.folded);
    const opener = deadEnds.find(({ stage }) => stage === 'head-sheared')?.opensWith[0];
    const label = app.content().phrases.tools[opener!].label;
    await waitFor(() =>
      expect(screen.getByRole('button', { name: new RegExp(`^${label}`) }).textContent).toContain(
        'screw 1, 2, head gone',
      ),
    );
    expect(screen.getByRole('button', { name: /^mallet/ }).textContent).toContain('Seats a driver');
  });

  it('brings the measured ones back in when the one of unknown size goes', async () => {
    const drill = { type: 'tool-in-room', tool: 'hard-metal-drill', present: true } as const;
    const { touch, app } = await room(Briefing, { drafts: [opening, screw('1'), { ...drill, fits: [5] }, drill] });
    await touch(/^Tools/);
    await touch(/^hard-metal drill/);
    await touch(new RegExp(`^${w('briefing.size-not-known')}`));
    expect(app.open()!.folded.case.context.room.tools.map(({ fits }) => fits)).toEqual([[5]]);
  });
});

describe('the start', () => {
  it('[H6] asks for an answer with a reason when no hard-metal drill fits, and then lets the work start', async () => {
    const { touch, entries, app } = await room(Briefing, { drafts: [opening, screw('1')] });
    await touch(/^Start/);
    await expect(touch(/^Start work/)).rejects.toThrow(w('briefing.answer-first'));
    await touch(w('briefing.go-on-all-the-same'));
    await touch('screws may be left in');
    expect(entries().at(-1)).toMatchObject({
      type: 'hold-answered',
      hold: 'hard-metal',
      answer: 'go-on',
      reason: 'screws may be left in',
    });
    await touch(/^Start work/);
    expect(entries().at(-1)!.type).toBe('work-started');
    expect(app.screen()).toBe('table');
    expect(app.view()!.unanswered).toEqual([]);
  });

  it('[H6] stays closed once the answer was not to start, until somebody goes on with a reason', async () => {
    const { touch, app } = await room(Briefing, { drafts: [opening, screw('1')] });
    await touch(/^Start/);
    await touch(w('briefing.do-not-start'));
    expect(app.view()!.phase).toBe('briefing');
    await waitFor(() => expect(screen.getByText(w('briefing.answered-stop'))).toBeTruthy());
    await expect(touch(/^Start work/)).rejects.toThrow(w('briefing.answer-first'));
  });

  it('never stands in the way otherwise: an empty briefing can start, and says all that is not recorded', async () => {
    const { touch, app, entries } = await room(Briefing, { drafts: [opening] });
    await touch(/^Start/);
    for (const gap of gapsOf(app.open()!)) expect(screen.getByText(w(gap.key))).toBeTruthy();
    await touch(/^Start work/);
    expect(entries().map(({ type }) => type)).toEqual(['case-opened', 'work-started']);
  });

  it('names the dead ends screw by screw and the fewest tools that open them', async () => {
    const { touch, app } = await room(Briefing, { drafts: [opening, screw('1'), screw('2')] });
    await touch(/^Start/);
    await waitFor(() => expect(screen.getByText(/Screw 1, 2: if it comes to “Head gone”/)).toBeTruthy());
    const bring = readiness(app.open()!.folded).bring.map((tool) => app.content().phrases.tools[tool].label);
    expect(document.querySelector('.start')!.textContent).toContain(bring.join(', '));
  });

  it('finds the invented case ready but for what it leaves open', async () => {
    const { app } = await room(Briefing, { drafts: demoDrafts('Europe/Oslo'), demo: true });
    expect(readiness(app.open()!.folded)).toMatchObject({ doNotStart: [], deadEnds: [] });
    expect(gapsOf(app.open()!).map(({ key }) => key)).toEqual(['briefing.gap.clock']);
    expect(screen.getByText(w('cases.invented'))).toBeTruthy();
  });
});

describe('what was agreed', () => {
  it('sets a limit in one touch and closes those that would cross', async () => {
    const { touch, entries } = await room(Briefing, { drafts: [opening] });
    await touch(/^Agreed/);
    await touch(/^25\s%/, 0);
    expect(entries().at(-1)).toMatchObject({ type: 'limits-set', boneConsider: 0.25 });
    await expect(touch(/^20\s%/, 1)).rejects.toThrow(w('briefing.under-lower'));
  });

  it('ticks a consent point, and unticks it', async () => {
    const { touch, app } = await room(Briefing, { drafts: [opening] });
    await touch(/^Consent/);
    await touch(/^The metal may break/);
    expect(app.open()!.folded.case.context.consent['may-break']).toBe(true);
    await touch(/^The metal may break/);
    expect(app.open()!.folded.case.context.consent['may-break']).toBe(false);
  });

  it('takes all open consent points as on the form by one touch, an entry each, and none that does not count', async () => {
    const { touch, app, entries } = await room(Briefing, { drafts: [opening] });
    await touch(/^Consent/);
    await touch(/^The metal may break/);
    const open = consentOpen(app.open()!.folded);
    expect(open.length).toBeGreaterThan(1);
    await touch(new RegExp(`^${w('briefing.consent-all')}`));
    expect(consentOpen(app.open()!.folded)).toEqual([]);
    const made = entries().slice(-open.length);
    expect(made).toMatchObject(open.map((point) => ({ type: 'consent-point', point, confirmed: true })));
    expect(app.open()!.folded.case.context.consent['at-patients-request']).toBeUndefined();
    expect(screen.queryByRole('button', { name: new RegExp(`^${w('briefing.consent-all')}`) })).toBeNull();
    await touch(w('briefing.take-back'));
    expect(consentOpen(app.open()!.folded)).toEqual(open);
  });

  it('lists a person by role without a name', async () => {
    const { touch, entries } = await room(Briefing, { drafts: [opening] });
    await touch(/^Agreed/);
    await touch('anaesthetist');
    await touch(w('briefing.present-no-name'));
    expect(entries().at(-1)).toMatchObject({
      type: 'person-listed',
      role: 'anaesthetist',
      who: w('briefing.present-unnamed'),
    });
  });

  it('lists a person by what was typed', async () => {
    const { touch, entries } = await room(Briefing, { drafts: [opening] });
    await touch(/^Agreed/);
    await touch('surgeon');
    fireEvent.input(screen.getByRole('textbox'), { target: { value: ' A. B. ' } });
    await touch(w('briefing.enter'));
    expect(entries().at(-1)).toMatchObject({ type: 'person-listed', role: 'surgeon', who: 'A. B.' });
  });

  it('compares the wall clock: what it said, to the second', async () => {
    const { touch, entries, app } = await room(Briefing, { drafts: [opening] });
    await touch(/^Agreed/);
    await touch('more', 0);
    await touch('more', 0);
    const expected = theatreTime(app.tick(), 2, 0);
    await touch(w('briefing.clock-shows'));
    expect(entries().at(-1)).toMatchObject({ type: 'clock-compared', theatreClock: expected, source: 'wall' });
  });
});

describe('small sums of the briefing', () => {
  it('asks in order', () => {
    expect(nextQuestion({})).toBe('size');
    expect(
      nextQuestion({
        diameter: 5,
        thread: 'cortical',
        locking: true,
        drive: 'unknown',
        material: 'steel',
        cortices: 1,
        length: null,
      }),
    ).toBeNull();
  });
  it('goes on after the highest number', () => expect(nextIds(['1', '7', 'x'], 2)).toEqual(['8', '9']));
  it('offers at most nineteen lengths', () =>
    expect([2, 3.5, 5].map((d) => lengthOffers(d).length <= 19)).toEqual([true, true, true]));
  it('scales a film', () => expect(filmFactor(25, 27.5)).toBe(0.909));
  it('draws runs of numbers together', () => expect(ranges(['1', '2', '3', '5', '6', 'a'])).toBe('1–3, 5, 6, a'));
});
