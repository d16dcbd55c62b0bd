/** A rehearsal of a plan on the screen: what it deals, what it says at the end, and that the case is as it was. */
import 'fake-indexeddb/auto';
import { cleanup, screen, waitFor } from '@solidjs/testing-library';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createRoot, createSignal } from 'solid-js';
import type { EntryDraft } from '../../machines/entry.ts';
import { dealerFor } from '../../machines/deal.ts';
import { fold, step } from '../../machines/fold.ts';
import { epoch } from '../../machines/time.ts';
import { Briefing } from '../../src/screens/Briefing.tsx';
import { createRehearsal } from '../../src/session/rehearsal.ts';
import { planOf } from '../../src/session/plan.ts';
import { content, opening, room, steadyFingers, w, type Room } from './rooms.harness.tsx';
import { content as secondContent, second } from './second.harness.tsx';

const screw = (id: string, more: object = {}): EntryDraft => ({
  ...({ type: 'screw-listed', screw: id, diameter: 3.5, thread: 'cortical', locking: true } as const),
  ...({ drive: 'hexalobular', driveSize: 15, material: 'titanium', length: 28, cortices: 2 } as const),
  ...more,
});
const bone: EntryDraft = { type: 'bone-measured', outer: 27, cortex: 5, source: 'measured' };
const driver: EntryDraft = { type: 'tool-in-room', tool: 'driver-hexalobular', present: true, size: 15 };
const drafts = [opening, bone, screw('1'), screw('2'), driver];
const told = () => document.body.textContent.replace(/\s+/g, ' ');

let seed = 0;
beforeEach(() => {
  steadyFingers();
  vi.spyOn(crypto, 'getRandomValues').mockImplementation((into) => {
    (into as Uint32Array)[0] = seed++;
    return into;
  });
});
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

/** The first seed from `from` on that deals this to turning out screw "1". */
function seedFor({ app }: Room, outcome: string, from = 0): number {
  const open = app.open()!;
  const at = open.entries.at(-1)!.logged;
  const [n, logged] = [open.entries.length + 1, at];
  const begun = { n, at, logged, type: 'work-started' } as const;
  const start = { n: n + 1, at, logged, type: 'move-started', screw: '1', move: 'turn-out' } as const;
  const state = step(step(open.folded, begun, open.entries), start, [...open.entries, begun]);
  for (let one = from; ; one++) if (dealerFor(open.folded, [], one).deal(state, '1')?.outcome === outcome) return one;
}
const begin = async (one: Room, outcome: string) => {
  seed = seedFor(one, outcome);
  await one.touch(/^Start/);
  await one.touch(/^Rehearse this plan/);
  await waitFor(() => expect(document.querySelector('.rehearsal')).toBeTruthy());
};

describe('a plan is rehearsed', () => {
  it.each([
    ['the first ladder', {}],
    ['the second ladder', second],
  ])('by %s: what is dealt is called, touched by the nurse, and kept nowhere', async (_, parts) => {
    const here = await room(Briefing, { drafts, parts });
    const before = JSON.stringify([await here.stored(), here.entries()]);
    await begin(here, 'slipped');
    expect(told()).toContain(`${w('rehearsal.mark')} ${w('cases.invented')}`);
    await here.touch(/^1 .*: screw/);
    await here.touch(/Turn it out/);
    expect(told()).toMatch(/Dealt: It slipped, after \d+ min/);
    await here.touch(/It slipped/);
    await here.touch(/^Looked again/);
    await here.touch(/^Closed moves/);
    await here.touch(/it is here$/);
    await here.touch(/^End/);
    expect(told()).toContain(w('rehearsal.by.touch'));
    expect(told()).toContain('Stop turning and look again, screw 1: looked again');
    expect(told()).toContain('The plan stands as it was.');
    expect(told()).toContain(`Entered otherwise than dealt${w('rehearsal.otherwise-none')}`);
    await here.touch(/^Back to the plan/);
    expect(document.querySelector('.rehearsal')).toBeNull();
    expect(screen.getByRole('button', { name: /Start work/ })).toBeTruthy();
    expect(JSON.stringify([await here.stored(), here.entries()])).toBe(before);
    expect(here.app.session.lines()).toHaveLength(1);
    expect(here.app.view()?.phase).toBe('briefing');
  });

  it('says what was entered otherwise, what stood open and what nobody measured', async () => {
    const here = await room(Briefing, {
      drafts: [opening, screw('1', { length: null, driveSize: undefined }), driver],
    });
    await begin(here, 'out');
    await here.touch(/^1 .*: screw/);
    await here.touch(/Turn it out/);
    await here.touch(/It slipped/);
    await here.touch(/^End/);
    expect(told()).toContain('Screw 1, Turn out with the matched driver: dealt “It is out”, entered “It slipped”');
    expect(told()).toContain('Stop turning and look again, screw 1: open to the end');
    expect(told()).toContain('length: screw 1');
    expect(told()).toContain('bone: diameter and cortex');
    expect(told()).not.toContain('cortices: ');
  });

  it('names the first tool that was missing by its size and the stage', async () => {
    const here = await room(Briefing, { drafts: [opening, bone, screw('1'), screw('2')] });
    await begin(here, 'out');
    await here.touch(/^1 .*: screw/);
    await here.touch(/^End/);
    expect(told()).toContain('hexalobular driver (size 15); screw 1, seated; for: Turn out with the matched driver.');
    expect(told()).toContain('nothing was open but to leave it in');
  });

  it('comes to its last page once every screw has ended, and goes on from there', async () => {
    const here = await room(Briefing, { drafts: [opening, bone, screw('1'), driver] });
    await begin(here, 'out');
    await here.touch(/^1 .*: screw/);
    await here.touch(/Turn it out/);
    await here.touch(/It is out/);
    expect(told()).toContain(w('rehearsal.all-ended'));
    await here.touch(/^Whole, tip and head seen/);
    await waitFor(() => expect(told()).toContain(w('rehearsal.by.all')));
    expect(told()).toContain('length of what came out: screw 1');
    await here.touch(/^Go on with this one/);
    await here.touch(/^End/);
    expect(told()).toContain(w('rehearsal.by.touch'));
  });

  it('comes to it after five minutes, and gives five more', async () => {
    const [tick, setTick] = createSignal(Date.parse('2026-02-17T09:00:00Z'));
    const here = await room(Briefing, { drafts, more: { tick } });
    await begin(here, 'out');
    expect(told()).toContain('5 min left');
    setTick((now) => now + 299_000);
    expect(told()).toContain('1 min left');
    setTick((now) => now + 1000);
    expect(told()).toContain('The 5 minutes are over.');
    await here.touch(/^Go on with this one/);
    expect(told()).toContain('5 min left');
  });

  it('comes to it when nobody answers for the last screw', async () => {
    const [tick, setTick] = createSignal(Date.parse('2026-02-17T09:00:00Z'));
    const here = await room(Briefing, { drafts: [opening, bone, screw('1'), driver], more: { tick } });
    await begin(here, 'out');
    await here.touch(/^1 .*: screw/);
    await here.touch(/Turn it out/);
    await here.touch(/It is out/);
    setTick((now) => now + 29_000);
    expect(told()).not.toContain(w('rehearsal.by.all'));
    setTick((now) => now + 1000);
    expect(told()).toContain(w('rehearsal.by.all'));
  });

  it('deals the same again, and another', async () => {
    const here = await room(Briefing, { drafts });
    await begin(here, 'slipped');
    const number = () => /Deal (\d+)/.exec(told())?.[1];
    await here.touch(/^End/);
    const first = number();
    await here.touch(/^Deal the same again/);
    await here.touch(/^1 .*: screw/);
    await here.touch(/Turn it out/);
    expect(told()).toContain('Dealt: It slipped');
    await here.touch(/^End/);
    expect(number()).toBe(first);
    await here.touch(/^Deal another/);
    await here.touch(/^End/);
    expect(number()).not.toBe(first);
  });

  it('leads to nothing of the case itself: no plan, no settings, no rates to change, no closing', async () => {
    const here = await room(Briefing, { drafts });
    await begin(here, 'out');
    await here.touch(/^More/);
    await here.touch(/^Plan and tools/);
    expect(told()).toContain(w('rehearsal.not-here'));
    await here.touch(/^How long still/);
    await waitFor(() => expect(told()).toContain(w('plan.p90')), { timeout: 20_000 });
    await expect(here.touch(/^The rates this rests on/)).rejects.toThrow(/is closed/);
    expect(here.app.screen()).toBe('cases');
  });
});

describe('a rehearsal is not offered', () => {
  it.each([
    ['of a plan without a screw', [opening, bone], {}, 'rehearsal.no-screws'],
    ['once the work has begun', [...drafts, { type: 'work-started' } as const], {}, 'rehearsal.begun'],
    ['in a window that only follows', drafts, { writer: () => false }, 'rehearsal.other-window'],
  ] as const)('%s', async (_, plan, more, why) => {
    const here = await room(Briefing, { drafts: plan, more });
    await here.touch(/^Start/);
    await expect(here.touch(/^Rehearse this plan/)).rejects.toThrow(w(why));
  });

  it('any more once the work begins in another window: the plan stands there again', async () => {
    const here = await room(Briefing, { drafts });
    await begin(here, 'out');
    await here.app.session.record({ type: 'work-started' });
    await waitFor(() => expect(document.querySelector('.rehearsal')).toBeNull());
  });
});

describe('the session of a rehearsal', () => {
  it('passes the dealt minutes as an end is entered, once, and keeps the plan that it was given', async () => {
    const here = await room(Briefing, { drafts });
    const open = here.app.open()!;
    const plan = planOf(open, []);
    expect(plan.entries).toEqual(open.entries);
    expect(plan.entries[0]).not.toBe(open.entries[0]);
    const now = epoch(open.entries.at(-1)!.logged) + 60_000;
    await createRoot(async (dispose) => {
      const { session, deal, ms, otherwise } = createRehearsal(plan, seedFor(here, 'out'), () => now)!;
      await session.record({ type: 'move-started', screw: '1', move: 'turn-out' });
      await session.record({ type: 'screw-called', screw: '1' });
      const { minutes } = deal()!;
      expect(minutes).toBeGreaterThan(0);
      await session.record({ type: 'move-ended', screw: '1', outcome: 'out' });
      expect(ms() - now).toBeCloseTo(minutes * 60_000, 0);
      await session.record({ type: 'struck', entry: session.open()!.entries.length, reason: 'taken back' });
      await session.recordAll([{ type: 'move-ended', screw: '1', outcome: 'no-change' }]);
      expect(ms() - now).toBeCloseTo(minutes * 60_000, 0);
      expect(otherwise()).toMatchObject([{ screw: '1', move: 'turn-out', entered: 'no-change' }]);
      expect(plan.entries).toEqual(open.entries);
      dispose();
    });
    expect(here.app.open()).toBe(open);
  });

  it('is none where this build lacks the content of the plan', () =>
    createRoot((dispose) => {
      const plan = { meta: { contentVersion: '1999.1' }, entries: [], rates: [] };
      expect(createRehearsal(plan, 1, () => 0)).toBeNull();
      dispose();
    }));

  it('folds by the content of its plan', async () => {
    const here = await room(Briefing, { drafts, parts: second });
    const open = here.app.open()!;
    createRoot((dispose) => {
      const running = createRehearsal(planOf(open, []), 1, () => 0)!;
      expect(running.session.open()!.folded.content.version).toBe(secondContent.version);
      expect(fold(open.entries, content).content.version).not.toBe(secondContent.version);
      dispose();
    });
  });
});
