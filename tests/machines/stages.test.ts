/** What a screw becomes by the outcome of a move, cell by cell. */
import { describe, expect, it } from 'vitest';
import { moveIds, workingStages, type MoveId, type Outcome, type WorkingStage } from '../ids.ts';
import { section } from '../../machines/compute/ring.ts';
import { atTheTable, closed, offered, type Log } from './build.ts';

type Row = { outcome: Outcome; reachable?: boolean };
const moves = moveIds.filter((move) => move !== 'leave-in');
const some = ['turn-out', 'pack-recess', 'grip-head', 'drill-head-off', 'gouge-and-grip', 'hollow-ream'] as const;
const inRecess: readonly MoveId[] = ['turn-out', 'reseat-driver', 'pack-recess', 'drive-oversize'];

/** Stage after each outcome, in the order seated, recess-stripped, head-sheared, fragment-retained; `!` = cannot be. */
const table: [Row, [string, string, string, string]][] = [
  [{ outcome: 'out' }, ['out', 'out', 'out', 'out']],
  [{ outcome: 'moving' }, ['same', 'same', 'same', 'same']],
  [{ outcome: 'no-change' }, ['same', 'same', 'same', 'same']],
  [{ outcome: 'slipped' }, ['by the move', 'same', 'same', 'same']],
  [{ outcome: 'head-sheared' }, ['head-sheared', 'head-sheared', '!', '!']],
  [{ outcome: 'shank-broke', reachable: true }, ['head-sheared', 'head-sheared', 'same', 'same']],
  [
    { outcome: 'shank-broke', reachable: false },
    ['fragment-retained', 'fragment-retained', 'fragment-retained', 'same'],
  ],
  [{ outcome: 'tool-broke' }, ['same', 'same', 'same', 'same']],
  [{ outcome: 'tool-jammed' }, ['same', 'same', 'same', 'same']],
  [{ outcome: 'set-up-done' }, ['by the move', 'by the move', 'same', 'same']],
];

function stageAfter(cell: string, stage: WorkingStage, { outcome }: Row, move: MoveId): string {
  if (cell === 'same') return stage;
  if (cell !== 'by the move') return cell;
  if (outcome === 'slipped') return inRecess.includes(move) ? 'recess-stripped' : stage;
  return move === 'drill-head-off' ? 'head-sheared' : stage;
}

const isWithoutGain = ({ outcome }: Row, move: MoveId) =>
  ['no-change', 'slipped', 'tool-broke', 'tool-jammed', 'shank-broke'].includes(outcome) ||
  (outcome === 'head-sheared' && move !== 'drill-head-off');

const made = [{ wall: 'near' as const, diameter: 9 }];
/** A screw of that stage; the figures are free of the projections, for the ends name their bores. */
const at = (stage: WorkingStage): Log => atTheTable(stage === 'seated' ? {} : { stage });

const cells = table.flatMap(([row, stages]) =>
  workingStages.map((stage, i) => ({
    row,
    stage,
    cell: stages[i] as string,
    name: `${row.outcome}${row.reachable === undefined ? '' : row.reachable ? ', reachable' : ', not reachable'}`,
  })),
);

describe.each(cells)('$name from $stage', ({ row, stage, cell }) => {
  const after = (move: MoveId, log = at(stage)) =>
    log.begins('1', move).ends('1', row.outcome, { ...row, bores: made });

  if (cell === '!') {
    it('cannot be: the entry is out of order and the move goes on', () => {
      for (const move of some) {
        const log = after(move);
        expect(log.view.outOfOrder).toEqual([log.n]);
        expect(log.of('1')).toMatchObject({ stage, move, holds: [] });
        expect(log.ends('1', 'out').of('1')).toMatchObject({ stage: 'out', move: null });
      }
    });
    return;
  }

  it(`leads to ${cell} with every move; the move has ended and its bores stand`, () => {
    for (const move of moves) {
      const log = after(move);
      const screw = log.of('1');
      expect(log.view.outOfOrder).toEqual([]);
      expect(screw.stage).toBe(stageAfter(cell, stage, row, move));
      expect(screw.move).toBeNull();
      expect(log.folded.screws.get('1')?.context.bores).toEqual(made);
      if (screw.stage === 'out') expect([screw.offered, screw.withdrawn, screw.holds]).toEqual([[], [], []]);
      else {
        const lost = section(27, 5, [{ wall: 'both', diameter: 4.5 }, ...made]).cortexLost;
        expect(screw.offered.find((one) => one.move === 'leave-in')?.cortexLostBefore).toBeCloseTo(lost, 12);
      }
    }
  });

  it('opens the reassessment only when it slipped', () => {
    for (const move of some) expect(after(move).of('1').holds.includes('reassess')).toBe(row.outcome === 'slipped');
  });

  if (row.outcome !== 'out')
    it('counts as without gain, or as gain', () => {
      for (const move of some) {
        const second = after(move, at(stage).tries('1', 'free-plate', 'no-change', { bores: [] }));
        expect(second.of('1').holds.includes('second-surgeon')).toBe(isWithoutGain(row, move));
        expect(after(move).of('1').holds.includes('second-surgeon')).toBe(row.outcome === 'tool-broke');
      }
    });
});

describe('a sheared head', () => {
  const at = () => atTheTable({ stage: 'head-sheared' });

  it.each(['moving', 'set-up-done'] as const)('stands proud once a move on it ended %s', (outcome) => {
    expect(closed(at().of('1'))['grip-shank']).toBe('not-proud');
    expect(offered(at().tries('1', 'gouge-and-grip', outcome).of('1'))).toContain('grip-shank');
  });

  it.each(['no-change', 'slipped', 'tool-broke', 'shank-broke', 'tool-jammed'] as const)(
    'does not stand proud for a move that ended %s',
    (outcome) => {
      const log = at().tries('1', 'gouge-and-grip', outcome).looksAgain('1');
      expect(closed(log.of('1'))['grip-shank']).toBe('not-proud');
    },
  );

  it.each(['no-change', 'slipped', 'tool-broke', 'shank-broke', 'tool-jammed', 'moving', 'set-up-done'] as const)(
    'opens the sleeve after hollow-ream ended %s, unless it slipped or broke',
    (outcome) => {
      const log = at().tries('1', 'hollow-ream', outcome).looksAgain('1');
      const opens = outcome !== 'slipped' && outcome !== 'tool-broke';
      expect(offered(log.of('1')).includes('extraction-sleeve')).toBe(opens);
      if (!opens) expect(closed(log.of('1'))['extraction-sleeve']).toBe('needs-reaming');
    },
  );

  it('keeps the projected bores when nobody says what was made, and none when none were made', () => {
    const bores = (more: object) =>
      at().tries('1', 'gouge-and-grip', 'no-change', more).folded.screws.get('1')?.context.bores;
    expect(bores({})).toEqual([{ wall: 'near', diameter: 8.5 }]);
    expect(bores({ bores: [] })).toEqual([]);
    expect(bores({ bores: made })).toEqual(made);
    const named = at().begins('1', 'gouge-and-grip', { bores: [{ wall: 'near', diameter: 7 }] });
    expect(named.ends('1', 'no-change').folded.screws.get('1')?.context.bores).toEqual([{ wall: 'near', diameter: 7 }]);
  });
});

describe('a broken tool', () => {
  it('has its tip open in the count at once [Z18]', () => {
    const log = atTheTable().begins('1', 'conical-extractor', { tool: 'conical-extractor' }).ends('1', 'tool-broke');
    expect(log.view.toolTips).toEqual([
      {
        ...{ tool: 'conical-extractor', entry: log.n, listed: null, recovered: 0 },
        ...{ destroyed: 0, left: 0, unaccounted: null, closes: 'open' },
      },
    ]);
  });
});
