/** What the table is drawn from: the stair says what the trace says, every move has a drawing, bars are as long as their figures. */
import { cleanup, render } from '@solidjs/testing-library';
import { afterEach, describe, expect, it } from 'vitest';
import type { Stage } from '../../content/ids.ts';
import { loadContent } from '../../content/catalog.ts';
import type { Content } from '../../content/types.ts';
import { fold } from '../../machines/fold.ts';
import { CostGauge, gaugeEnd } from '../../src/pictures/CostGauge.tsx';
import { MovePicture, OutcomePicture } from '../../src/pictures/moves/index.tsx';
import { guarded, type Answer } from '../../src/screens/table/Outcomes.tsx';
import { stairOf, triedOn } from '../../src/screens/table/tried.ts';
import { Log } from '../machines/build.ts';
import { content as second } from './second.harness.tsx';

afterEach(cleanup);

const scene = { headed: true, emptied: false, plate: true };
const shapes = (of: Element) => of.querySelectorAll('path, rect, circle').length;

describe('a drawing', () => {
  const first = loadContent('2026.1') as Content;
  const moves = [...new Set([...first.moves, ...second.moves].map(({ id }) => id))];

  it('is there for every move of both ladders, and no two are the same', () => {
    const drawn = moves.map((move) => render(() => <MovePicture move={move} scene={scene} />).container.innerHTML);
    for (const [i, svg] of drawn.entries()) expect(svg, moves[i]).toContain('<path');
    expect(new Set(drawn).size).toBe(moves.length);
    expect(moves.length).toBeGreaterThan(20);
  });

  it('is there for every outcome but the shank, which breaks in two ways, and no two are the same', () => {
    const ids = [...second.ids.outcomes.filter((id) => id !== 'shank-broke')];
    const all = [...ids, 'near-piece', 'far-piece', 'out-jammed'];
    const drawn = all.map((one) => render(() => <OutcomePicture outcome={one} scene={scene} />).container.innerHTML);
    for (const [i, svg] of drawn.entries()) expect(svg, all[i]).toContain('<path');
    expect(new Set(drawn).size).toBe(all.length);
  });

  it('shows the head and the plate only where they are', () => {
    const of = (at: Partial<typeof scene>) => {
      const { container } = render(() => <MovePicture move="leave-in" scene={{ ...scene, ...at }} />);
      return { plates: container.querySelectorAll('.plate-side').length, metal: container.querySelectorAll('.metal') };
    };
    expect(of({}).plates).toBeGreaterThan(0);
    expect(of({ plate: false }).plates).toBe(0);
    expect(of({}).metal.length).toBe(of({ headed: false }).metal.length + 1);
  });

  it('shows the deep piece only where that is all there is', () => {
    for (const move of ['hollow-ream', 'extraction-sleeve', 'burr-out']) {
      const [shaft, deep] = [false, true].map((is) => {
        const at = { headed: false, emptied: false, plate: false, deep: is };
        return render(() => <MovePicture move={move} scene={at} />).container.querySelectorAll('.bone').length;
      });
      // Two walls, each on both sides of its hole, and one.
      expect([shaft, deep], move).toEqual([2, 4]);
    }
  });

  it('of what nobody drew is an empty box', () => {
    expect(shapes(render(() => <MovePicture move="other" scene={scene} />).container)).toBe(0);
    expect(shapes(render(() => <OutcomePicture outcome="none" scene={scene} />).container)).toBe(0);
  });
});

describe('the bar of a cost', () => {
  const limits = { consider: 0.2, stop: 0.3 };
  const bar = (before: number, after: number) => {
    const { container } = render(() => <CostGauge before={before} after={after} limits={limits} />);
    const boxes = (of: string) =>
      [...container.querySelectorAll(of)].map((box) => ({
        x: Number(box.getAttribute('x')),
        width: Number(box.getAttribute('width')),
        height: Number(box.getAttribute('height')),
      }));
    const sum = (of: string) => boxes(of).reduce((all, { width }) => all + width, 0);
    return { container, boxes, gone: sum('.cost-gone'), would: sum('.cost-would-ground'), whole: sum('.cost-track') };
  };

  it('is as long as its figures: a unit a hundredth, wherever they lie', () => {
    for (const [before, after] of [
      [0, 0],
      [0.15, 0.15],
      [0.15, 0.18],
      [0.15, 0.24],
      [0.22, 0.36],
      [0.31, 0.39],
    ] as const) {
      const drawn = bar(before, after);
      expect(drawn.gone).toBeCloseTo(before * 100, 9);
      expect(drawn.would).toBeCloseTo((after - before) * 100, 9);
      expect(drawn.whole).toBeCloseTo(gaugeEnd * 100, 9);
      cleanup();
    }
  });

  it('has its limits where they are in force', () => {
    expect(bar(0.1, 0.2).container.querySelector('.cost-limit')?.getAttribute('d')).toBe('M20 0V7M30 0V7');
  });

  it('is twice as high past the first limit, and nowhere before it', () => {
    const low = bar(0.1, 0.18).boxes('.cost-gone, .cost-would-ground');
    expect(new Set(low.map(({ height }) => height)).size).toBe(1);
    cleanup();
    const parts = bar(0.15, 0.26).boxes('.cost-would-ground');
    expect(parts.map(({ x, width }) => [Math.round(x), Math.round(width)])).toEqual([
      [15, 5],
      [20, 6],
    ]);
    expect(parts[1]?.height).toBe(2 * (parts[0]?.height ?? 0));
  });

  it('ends open beyond its end, and only there', () => {
    expect(bar(0.2, 0.39).container.querySelector('.cost-open')).toBeNull();
    const over = bar(0.2, 0.55);
    expect(over.container.querySelector('.cost-open')).not.toBeNull();
    expect(over.would).toBeCloseTo((gaugeEnd - 0.2) * 100, 9);
  });
});

/** A case with these screws, a driver that fits, and the first of them called. */
function inRoom(...screws: string[]): Log {
  const log = new Log(undefined, second).opened();
  for (const id of screws) log.screw(id);
  return log.tool('driver-hexagonal').start().call('1');
}

describe('the stair', () => {
  const stages = (stage: Stage) => stairOf([], stage).map(({ place }) => place);

  it('has what lies behind, the present, the next and the rest', () => {
    expect(stages('seated')).toEqual(['here', 'next', 'far', 'far']);
    expect(stages('head-sheared')).toEqual(['past', 'past', 'here', 'next']);
    expect(stages('fragment-retained')).toEqual(['past', 'past', 'past', 'here']);
  });

  it('shows nothing ahead of a screw that has ended', () => {
    expect(stages('out')).not.toContain('here');
    expect(stages('out')).not.toContain('past');
  });

  it('says each try in the stage in which it began, whoever logs it late, and none that was taken back', () => {
    const log = inRoom('1', '2');
    log.begins('1', 'turn-out', { tool: 'driver-hexagonal' });
    const trace = () => fold(log.entries, second).trace;
    expect(triedOn(trace(), '1')).toMatchObject([{ stage: 'seated', runs: true, outcome: null }]);
    log.write({ type: 'move-ended', screw: '1', outcome: 'slipped' });
    log.write({ type: 'reassessed', screw: '1', checks: {} });
    log.begins('1', 'reseat-driver', { tool: 'driver-hexagonal' });
    log.write({ type: 'struck', entry: log.entries.length, reason: 'touched by mistake' });
    log.write({ type: 'move-started', screw: '1', move: 'pack-recess', tool: 'driver-hexagonal' });
    log.write({ type: 'move-ended', screw: '1', outcome: 'no-change' });
    expect(triedOn(trace(), '1').map(({ move, outcome, stage }) => [move, outcome, stage])).toEqual([
      ['turn-out', 'slipped', 'seated'],
      ['pack-recess', 'no-change', 'recess-stripped'],
    ]);
    expect(triedOn(trace(), '2')).toEqual([]);
  });

  it('says of a move that nobody ended that nobody did', () => {
    const log = inRoom('1');
    for (let i = 0; i < 2; i++) log.begins('1', 'turn-out', { tool: 'driver-hexagonal' });
    const tried = triedOn(fold(log.entries, second).trace, '1');
    expect(tried.map(({ outcome, runs }) => [outcome, runs])).toEqual([
      [null, false],
      [null, true],
    ]);
  });
});

describe('answers to what happened', () => {
  const first = loadContent('2026.1') as Content;
  const grave = ['out', 'head-sheared', 'shank-broke'];
  const answers = (of: readonly string[]) =>
    of.map((outcome): Answer => ({ label: outcome, drawing: outcome, end: { outcome } as Answer['end'] }));

  it.each([first, second])(
    'never end the screw or lower its stage where the card was that began the move: release $version',
    (content) => {
      let moved = 0;
      for (const move of content.moves)
        for (const stage of ['seated', 'recess-stripped', 'head-sheared', 'fragment-retained'] as const)
          for (const place of [0, 1, 2]) {
            const all = answers([...new Set([...move.likely, ...content.ids.outcomes])]);
            const shown = guarded(all, place, stage);
            const there = shown[place]?.end.outcome ?? '';
            expect(grave, `${move.id} ${stage} ${place}`).not.toContain(there);
            if (stage === 'seated') expect(there).not.toBe('slipped');
            // All of them are still there, and those that did not give way keep their order.
            expect(new Set(shown)).toEqual(new Set(all));
            const kept = all.filter((one) => one !== shown[place]);
            expect(shown.filter((one) => one !== shown[place])).toEqual(kept);
            if (shown[place] !== all[place]) moved++;
          }
      expect(moved).toBeGreaterThan(20);
    },
  );

  it('stay as they are where nothing tells which card it was, or it was the fourth', () => {
    const all = answers(['out', 'slipped', 'no-change']);
    expect(guarded(all, null, 'seated')).toEqual(all);
    expect(guarded(all, 3, 'seated')).toEqual(all);
  });

  it('are a slip in the second place only where the recess is gone already', () => {
    const all = answers(['out', 'slipped', 'no-change']);
    expect(guarded(all, 1, 'recess-stripped')).toEqual(all);
    expect(guarded(all, 1, 'seated').map(({ label }) => label)).toEqual(['out', 'no-change', 'slipped']);
  });
});
