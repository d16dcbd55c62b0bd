/** What a department's own content changes in the offer, and what it cannot. */
import { describe, expect, it } from 'vitest';
import { toolIds } from '../ids.ts';
import { applyOverlay } from '../../content/overlay.ts';
import type { OverlayFile } from '../../content/overlay.types.ts';
import { fold } from '../../machines/fold.ts';
import type { Folded } from '../../machines/folded.ts';
import { consentOpen } from '../../machines/consent.ts';
import { readiness } from '../../machines/readiness.ts';
import { view } from '../../machines/view.ts';
import { overlayWith, release } from '../content/overlays.ts';
import { Log } from './build.ts';

function contentWith(changes: Partial<OverlayFile>) {
  const applied = applyOverlay(release, overlayWith(changes));
  if ('faults' in applied) throw new Error(JSON.stringify(applied.faults));
  return applied.content;
}
const stripped = () =>
  new Log()
    .opened()
    .bone(27, 5)
    .screw('1')
    .room(...toolIds)
    .start()
    .begins('1', 'turn-out')
    .ends('1', 'slipped')
    .write({ type: 'reassessed', screw: '1', checks: {} });
const of = (state: Folded) => view(state).screws['1']!;

describe('a move that is not used here', () => {
  const content = contentWith({ notUsed: ['grip-head', 'conical-extractor'] });

  it('stays in sight as closed, with the reason', () => {
    const { offered, withdrawn } = of(fold(stripped().entries, content));
    expect(offered.map(({ move }) => move)).not.toContain('grip-head');
    expect(withdrawn).toContainEqual({ move: 'grip-head', why: 'not-used-here', missing: [] });
    const released = of(fold(stripped().entries, release)).offered.map(({ move }) => move);
    expect(offered.map(({ move }) => move)).toEqual(
      released.filter((move) => move !== 'grip-head' && move !== 'conical-extractor'),
    );
  });

  it('[Z29] is taken into the log when it was made all the same', () => {
    const log = stripped().begins('1', 'grip-head').ends('1', 'out');
    const state = fold(log.entries, content);
    expect(state.outOfOrder).toEqual([]);
    expect(state.unoffered).toEqual([log.n - 1]);
    expect(of(state).stage).toBe('out');
  });

  it('opens no dead end', () => {
    const all = release.moves.map(({ id }) => id).filter((id) => id !== 'leave-in');
    const none = fold(stripped().entries, contentWith({ notUsed: all }));
    expect(readiness(fold(stripped().entries, release)).deadEnds).toEqual([]);
    expect(readiness(none).deadEnds.map(({ stage }) => stage)).toContain('recess-stripped');
    expect(of(none).offered.map(({ move }) => move)).toEqual(['leave-in']);
  });
});

describe('an order of the department', () => {
  it('is the order of the offer, with leaving in last', () => {
    const ids = release.moves.map(({ id }) => id);
    const order = [...ids.slice(0, -1).reverse(), 'leave-in' as const];
    const offered = (content: typeof release) => of(fold(stripped().entries, content)).offered.map(({ move }) => move);
    expect(offered(contentWith({ order }))).toEqual([...offered(release).slice(0, -1).reverse(), 'leave-in']);
  });
});

describe('limits of the department', () => {
  const content = contentWith({ limits: { boneConsider: 0.05, boneStop: 0.1, tourniquetMinutes: 60 } });

  it('hold where no limit was set for the case', () => {
    const log = stripped();
    const { context } = fold(log.entries, content).case;
    expect([context.room.limits, context.tourniquetLimit]).toEqual([{ boneConsider: 0.05, boneStop: 0.1 }, 60]);
    log.write({ type: 'limits-set', boneStop: 0.3 });
    expect(fold(log.entries, content).case.context.room.limits.boneStop).toBe(0.3);
  });

  it('never close the count', () => {
    const log = stripped().begins('1', 'grip-head').ends('1', 'out').write({ type: 'work-ended' });
    expect(view(fold(log.entries, content)).holds).toContain('count');
  });
});

describe('a consent point of the department', () => {
  it('is open until it was seen on the form', () => {
    const consent = [{ id: 'own-blood', label: 'Blood may be given', help: 'Invented for a test' }];
    const log = new Log(undefined, contentWith({ consent })).opened();
    expect(consentOpen(log.folded)).toContain('own-blood');
    log.write({ type: 'consent-point', point: 'own-blood' as never, confirmed: true });
    expect(consentOpen(log.folded)).not.toContain('own-blood');
    expect(consentOpen(new Log().opened().folded)).not.toContain('own-blood');
  });
});
