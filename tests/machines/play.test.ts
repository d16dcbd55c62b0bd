/** A move played ahead on the screw's own statechart: where each end leads, without a log. */
import { describe, expect, it } from 'vitest';
import type { MoveId } from '../../content/ids.ts';
import type { Move } from '../../content/types.ts';
import type { ScrewSnapshot } from '../../machines/folded.ts';
import { eventsOf, lookedAgain, played, type SupposedEnd } from '../../machines/play.ts';
import { screwMachine } from '../../machines/screw.machine.ts';
import { isTime } from '../../machines/time.ts';
import { atTheTable, content, type Log } from './build.ts';

const machine = screwMachine(content);
const move = (id: MoveId) => content.moves.find((one) => one.id === id) as Move;
const screwOf = (log: Log) => log.folded.screws.get('1') as ScrewSnapshot;
const ended = (from: ScrewSnapshot, id: MoveId, end: SupposedEnd) => played(machine, from, move(id), end);

describe('a move played ahead', () => {
  it.each([
    ['turn-out', { outcome: 'out' }, 'out'],
    ['turn-out', { outcome: 'no-change' }, 'seated'],
    ['turn-out', { outcome: 'slipped' }, 'recess-stripped'],
    ['turn-out', { outcome: 'head-sheared' }, 'head-sheared'],
    ['turn-out', { outcome: 'shank-broke' }, 'head-sheared'],
    ['turn-out', { outcome: 'shank-broke', reachable: true }, 'head-sheared'],
    ['turn-out', { outcome: 'shank-broke', reachable: false }, 'fragment-retained'],
  ] as const)('%s that ends %j leads from a seated screw to %s, as the same entries in a log', (id, end, stage) => {
    const log = atTheTable();
    const after = ended(screwOf(log), id, end);
    expect(after?.context).toMatchObject({ stage, running: null, ends: 1 });
    const reachable = end.outcome === 'shank-broke' && 'reachable' in end ? { reachable: end.reachable } : {};
    expect(log.tries('1', id, end.outcome, reachable).of('1').stage).toBe(stage);
  });

  it('makes no bores and measures no metal', () => {
    const screw = screwOf(atTheTable({ stage: 'head-sheared' }));
    expect(ended(screw, 'gouge-and-grip', { outcome: 'out' })?.context).toMatchObject({
      ...{ stage: 'out', bores: [], restOut: false, pieces: [0] },
    });
  });

  it('is none on a screw that is out', () => {
    expect(ended(screwOf(atTheTable().tries('1', 'turn-out', 'out')), 'turn-out', { outcome: 'out' })).toBeNull();
  });

  it('stands in entries as a log has them, of that screw and that move', () => {
    const [start, end] = eventsOf('7', move('grip-head'), { outcome: 'moving' });
    const when = { n: 1, at: expect.toSatisfy(isTime) as string, logged: expect.toSatisfy(isTime) as string };
    expect(start).toEqual({
      type: 'move-started',
      late: false,
      corrected: 0,
      move: move('grip-head'),
      projected: [],
      entry: { ...when, type: 'move-started', screw: '7', move: 'grip-head' },
    });
    expect(end).toEqual({
      type: 'move-ended',
      corrected: 0,
      entry: { ...when, type: 'move-ended', screw: '7', outcome: 'moving', recovered: 0, bores: [] },
    });
  });

  it('says of a broken shank alone whether it can be reached: it can, unless said otherwise', () => {
    const reachable = (end: SupposedEnd) => {
      const [, event] = eventsOf('1', move('turn-out'), end);
      const entry = event.type === 'move-ended' ? event.entry : {};
      return 'reachable' in entry ? entry.reachable : 'not said';
    };
    expect(reachable({ outcome: 'shank-broke' })).toBe(true);
    expect(reachable({ outcome: 'shank-broke', reachable: false })).toBe(false);
    expect(reachable({ outcome: 'slipped' })).toBe('not said');
    expect(reachable({ outcome: 'slipped', reachable: false })).toBe('not said');
  });
});

describe('the look after a slip, played ahead', () => {
  it('closes what the slip had opened', () => {
    const slipped = screwOf(atTheTable().tries('1', 'turn-out', 'slipped'));
    expect(slipped.matches({ reassess: 'open' })).toBe(true);
    const looked = lookedAgain(machine, slipped);
    expect(looked.matches({ reassess: 'open' })).toBe(false);
    expect(looked.context).toMatchObject({ id: '1', slips: 1, reassessed: true });
  });

  it('is not made where no slip asks for it', () => {
    const still = screwOf(atTheTable().tries('1', 'turn-out', 'no-change'));
    expect(lookedAgain(machine, still)).toBe(still);
  });
});
