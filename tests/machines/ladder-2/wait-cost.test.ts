/** What opens by waiting costs a touch no more than the screw that is shown. */
import { expect, it } from 'vitest';
import { second as rules } from '../../../machines/ladder/second.ts';
import { learn } from '../../../machines/second-ladder.ts';
import { stateOf } from '../../../machines/view.ts';
import { atTable } from './build.ts';

it('is worked out for the screws that somebody reads, and for no other of twelve', () => {
  const log = atTable({ facts: { stage: 'recess-stripped' } });
  for (let id = 2; id <= 12; id++) log.screw(String(id), { stage: 'recess-stripped' });
  const asked: string[] = [];
  learn({
    ...rules,
    ifYouWait: (state, id) => {
      asked.push(id);
      return rules.ifYouWait(state, id);
    },
  });
  try {
    const state = stateOf(log.tries('1', 'grip-head', 'no-change').folded);
    expect(asked).toEqual([]);
    const row = state.screws['3']?.ifYouWait;
    expect(asked).toEqual(['3']);
    const printed = JSON.parse(JSON.stringify(state)) as typeof state;
    expect(asked).toHaveLength(13);
    expect(printed.screws['3']?.ifYouWait).toEqual(row);
    expect(Object.keys(printed.screws['3'] ?? {})).toContain('ifYouWait');
  } finally {
    learn(rules);
  }
});
