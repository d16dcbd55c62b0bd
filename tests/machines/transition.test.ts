/** One machine told one event says what XState itself says of it. */
import fc from 'fast-check';
import { initialTransition, transition as xstateTransition, type AnyMachineSnapshot } from 'xstate';
import { expect, it } from 'vitest';
import { caseMachine } from '../../machines/case.machine.ts';
import type { CaseEvent } from '../../machines/events.ts';
import { fold } from '../../machines/fold.ts';
import { initialState, transition } from '../../machines/transition.ts';
import { screwMachine } from '../../machines/screw.machine.ts';
import { explore } from '../explore.ts';
import { length } from '../lengths.ts';
import { atTheTable, content } from './build.ts';
import { scrambled } from './generate.ts';
import { walks } from './walk.ts';

const machine = screwMachine(content);

it('begins as XState does', () => {
  const facts = [...fold(atTheTable().entries, content).screws.values()].map(({ context }) => context.facts);
  expect(facts.length).toBeGreaterThan(0);
  const same = (one: AnyMachineSnapshot, [other]: readonly [AnyMachineSnapshot, ...unknown[]]) =>
    expect([one.value, one.context, one.status]).toEqual([other.value, other.context, other.status]);
  same(initialState(caseMachine, { content, byTime: true }), initialTransition(caseMachine, { content, byTime: true }));
  for (const plateOff of [true, false])
    for (const fact of facts)
      same(initialState(machine, { facts: fact, plateOff }), initialTransition(machine, { facts: fact, plateOff }));
});

it('along every walk of a screw: the same next snapshot, or null where `can` says no', () => {
  const heard = { yes: 0, no: 0 };
  for (const path of [...walks.values()].flat().filter((_, i) => i % 20 === 0)) {
    const said = path.steps.map(({ event }) => event);
    for (const { state } of path.steps)
      for (const event of said) {
        const next = transition(machine, state, event);
        expect(next !== null).toBe(state.can(event));
        heard[next ? 'yes' : 'no']++;
        if (!next) continue;
        const [expected] = xstateTransition(machine, state, event);
        expect([next.value, next.context, next.status]).toEqual([expected.value, expected.context, expected.status]);
      }
  }
  expect(Math.min(heard.yes, heard.no)).toBeGreaterThan(100);
});

it('for a case in any state, and any entry that its own machine hears', () => {
  const heard = { yes: 0, no: 0 };
  explore(
    fc.property(scrambled, ({ entries }) => {
      const state = fold(entries.slice(0, entries.length >> 1), content).case;
      for (const entry of entries) {
        const event = {
          type: entry.type,
          entry,
          corrected: 0,
          ended: null,
          unaccounted: false,
        } as unknown as CaseEvent;
        const next = transition(caseMachine, state, event);
        expect(next !== null).toBe(state.can(event));
        heard[next ? 'yes' : 'no']++;
        if (next) expect(next.context).toEqual(xstateTransition(caseMachine, state, event)[0].context);
      }
    }),
    { numRuns: 40, endOnFailure: true },
  );
  expect(Math.min(heard.yes, heard.no)).toBeGreaterThan(length < 1 ? 0 : 100);
});

it('an entry that changes nothing is heard all the same', () => {
  const [unopened] = initialTransition(caseMachine, { content, byTime: true });
  const common = { n: 1, at: '2026-03-04T10:00:00Z', logged: '2026-03-04T10:00:00Z' };
  const washed: CaseEvent = { type: 'blood-loss', entry: { ...common, type: 'blood-loss', ml: 5 }, corrected: 0 };
  expect(transition(caseMachine, unopened, washed)).toBeNull();
  const opened = fold(
    [
      {
        ...common,
        type: 'case-opened',
        label: 'x',
        zone: 'UTC',
        side: 'left',
        bone: 'tibia',
        construct: 'plate',
        planned: '',
      },
    ],
    content,
  );
  expect(transition(caseMachine, opened.case, washed)).toBe(opened.case);
});
