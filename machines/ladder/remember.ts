/** What a screw remembers by the second ladder, event by event. */
import { moveOf } from '../../content/moves.ts';
import type { Stage } from '../../content/ids.ts';
import type { Content, Move } from '../../content/types.ts';
import type { EntryOf } from '../entry.ts';
import type { RunningMove, ScrewEvent } from '../events.ts';
import { stopAfterFirstSlip } from '../guards.ts';
import { isWithoutGain, slipStrips, type ScrewContext } from '../screw.context.ts';
import { onlyKind, type Climb, type Try } from './climb.ts';

type End = EntryOf<'move-ended'>;

const climbOf = (screw: ScrewContext): Climb => screw.climb as Climb;

/** A screw with what it remembers, and with what every ladder reads of that. */
const withClimb = (screw: ScrewContext, climb: Climb): ScrewContext => ({
  ...screw,
  climb,
  shankProud: climb.shank === true,
  usedUp: [...new Set(climb.tries.map(({ move }) => move))],
});

/** A screw as it is first listed. */
export const listed = (screw: ScrewContext, plateOff: boolean): ScrewContext =>
  withClimb(screw, {
    ...{ tries: [], reamings: [], reaming: null, windowed: false, shank: null, plateOff },
    ...{
      turnedWithoutGain: false,
      turnedFree: false,
      moved: false,
      movedThenStuck: false,
      boneUnsaid: false,
      lookIsLine: false,
    },
  });

/**
 * A screw as it would stand at a failure stage with what is known of it now: what nobody has entered opens nothing
 * there.
 */
export function supposed(fresh: ScrewContext, screw: ScrewContext): ScrewContext {
  const { reaming, windowed, shank, plateOff } = climbOf(screw);
  const climb = { ...climbOf(fresh), reaming, windowed, shank: shank ?? false, plateOff };
  return { ...withClimb(fresh, climb), found: { headProud: false, tipProud: false, corridor: false, ...screw.found } };
}

/** A screw once a move has made another one ready. */
export function prepared(screw: ScrewContext, move: Move): ScrewContext {
  const climb = climbOf(screw);
  if (move.id === 'window') return { ...screw, climb: { ...climb, windowed: true } };
  if (move.id !== 'hollow-ream') return screw;
  return { ...screw, reamed: true, climb: { ...climb, reaming: { depth: null, diameter: null } } };
}

/** Another stage: nothing was tried there yet, and the shank under a head that came off was never seen. */
export function reached(screw: ScrewContext, stage: Stage): Partial<ScrewContext> {
  const climb = { ...climbOf(screw), tries: [], ...(stage === 'head-sheared' && { shank: null }) };
  return { climb, shankProud: climb.shank === true };
}

const turnsIn = (tool: RunningMove['tool']) => tool?.startsWith('driver-') === true;

/**
 * A move as it was made: one for which a driver or something else serves turns in the recess only with the driver. What
 * turned free under a driver that turned alone had turned in the recess.
 */
export function made(move: Move, { tool }: Pick<RunningMove, 'tool'>, end?: End): Move {
  const either = move.needs.some((group) => 'driver' in group && group.or !== undefined);
  if (!either || move.turnsInRecess) return move;
  return turnsIn(tool) || end?.turned === 'driver' ? { ...move, turnsInRecess: true } : move;
}

/** The first slip strips no recess that was looked at and found sound, or not seen; every further one does. */
export const strips = (screw: ScrewContext, end: End, move: Move): boolean =>
  slipStrips({ outcome: end.outcome, recess: undefined }, move) &&
  (screw.slips > 0 || (end.recess !== 'sound' && end.recess !== 'not-seen'));

/** A move as one that was tried. */
const tryOf = (running: RunningMove): Try => {
  const among = running.among ?? null;
  return { move: running.move, tool: running.tool ?? onlyKind(among ?? []), among };
};

/** Does this end spend a try of its move? */
function isSpent({ outcome }: End, move: Move): boolean {
  if (move.id === 'reseat-driver') return outcome !== 'moving' && outcome !== 'turns-free';
  return outcome === 'no-change' || outcome === 'slipped';
}

/** Bone was opened by a move whose opening is asked, and nobody said how far. */
const isUnsaid = (move: Move, running: RunningMove, end?: End) =>
  move.boneAsked && end?.bores === undefined && running.bores.length === 0;

/** A look was asked for with another kind of tool, and a word was said on a second surgeon since the work on it began. */
const isFurtherLook = ({ slippedWith, secondAsked, colleague }: ScrewContext): boolean =>
  slippedWith.length > 0 && (secondAsked > 0 || colleague);

const gains = ['moving', 'set-up-done'];

/** What the ladder remembers once a move has ended so. `isNewest`: nothing was done to the screw since. */
function climbed(before: ScrewContext, end: End, move: Move, running: RunningMove, isNewest: boolean): Climb {
  const climb = climbOf(before);
  const { outcome } = end;
  const bores = end.bores ?? running.bores;
  const without = isWithoutGain(end, move);
  const isKept = outcome === 'slipped' && move.turnsInRecess && before.stage === 'seated' && !strips(before, end, move);
  const changes = gains.includes(outcome) || outcome === 'turns-free' || bores.length > 0;
  const old = changes && isNewest ? [] : climb.tries.filter((one) => !isKept || one.move !== 'turn-out');
  const spent = isSpent(end, move) && !(isKept && move.id === 'turn-out');
  const reamed = move.id === 'hollow-ream' && (gains.includes(outcome) || (end.depth ?? 0) > 0);
  const widest = bores.length ? Math.max(...bores.map(({ diameter }) => diameter)) : null;
  const comes = outcome === 'moving' || (outcome === 'set-up-done' && !move.prepares);
  const proud = comes && before.stage === 'head-sheared' ? true : climb.shank;
  return {
    ...climb,
    tries: spent ? [...old, tryOf(running)] : old,
    reamings: reamed ? [...climb.reamings, tryOf(running)] : climb.reamings,
    reaming: reamed ? { depth: end.depth ?? null, diameter: widest } : climb.reaming,
    windowed: climb.windowed || (move.id === 'window' && gains.includes(outcome)),
    shank: !isNewest ? climb.shank : outcome === 'shank-broke' ? null : proud,
    turnedWithoutGain: climb.turnedWithoutGain || (move.id === 'turn-out' && without && outcome !== 'slipped'),
    turnedFree: climb.turnedFree || outcome === 'turns-free',
    moved: climb.moved || outcome === 'moving',
    movedThenStuck: climb.movedThenStuck || (climb.moved && without),
    boneUnsaid: climb.boneUnsaid || isUnsaid(move, running, end),
    lookIsLine: stopAfterFirstSlip(before, end, move) ? isFurtherLook(before) : climb.lookIsLine,
  };
}

function afterEnd(before: ScrewContext, after: ScrewContext, end: End, made: Move): ScrewContext {
  const running = before.running as RunningMove;
  const climb = climbed(before, end, made, running, true);
  const slipped = end.outcome === 'slipped' && made.turnsInRecess && before.stage === 'seated';
  const cleared = made.id === 'uncover' && end.outcome === 'set-up-done';
  return {
    ...withClimb(after, climb),
    reamed: climb.reaming !== null,
    // The one more try of turning out is given by the slip.
    turnOutReopened: after.turnOutReopened || (slipped && !strips(before, end, made)),
    found: cleared ? { ...after.found, headCovered: false } : after.found,
  };
}

/** A move that was told to its end as history: it forgets nothing that was tried since. */
function afterLate(before: ScrewContext, after: ScrewContext, event: Extract<ScrewEvent, { type: 'late-ended' }>) {
  const { entry, move, start, stageThen, isNewest } = event;
  const then = climbed({ ...before, stage: stageThen }, entry, move, start, isNewest);
  const tries = stageThen === before.stage ? then.tries : climbOf(before).tries;
  return { ...withClimb(after, { ...then, tries }), reamed: then.reaming !== null };
}

/** The bores of what was broken off stand; those that are asked are not known. */
function brokenOff(content: Content, before: ScrewContext, after: ScrewContext): ScrewContext {
  const { running } = before;
  if (!running || running.waits || after.running) return after;
  const unsaid = isUnsaid(moveOf(content, running.move), running);
  return { ...after, climb: { ...climbOf(after), boneUnsaid: climbOf(after).boneUnsaid || unsaid } };
}

/** What of a finding a move fits or does not fit by. How deep the end lies, and whether openings meet, closes and opens none. */
const bearing = ['headProud', 'headCovered', 'shankStands', 'tipProud', 'corridor', 'fragmentLength'] as const;

/**
 * What was tried is forgotten where a finding tells something new that a move fits by: a fact that nobody had told, or
 * another one than before. What is only said again, or bears on no move, forgets nothing.
 */
function afterFinding(before: ScrewContext, after: ScrewContext, found: EntryOf<'found'>): ScrewContext {
  const climb = climbOf(after);
  const { shankProud, shankStands } = found;
  const told = shankProud ?? (shankStands === undefined ? climb.shank : shankStands > 0);
  const isNews =
    told !== climb.shank || bearing.some((fact) => found[fact] !== undefined && found[fact] !== before.found[fact]);
  return withClimb(after, { ...climb, shank: told, tries: isNews ? [] : climb.tries });
}

/** Nobody has seen how far the shank stands, now that the plate is off. */
function afterPlateOff(after: ScrewContext, { part }: EntryOf<'plate-off'>): ScrewContext {
  const climb = climbOf(after);
  if (climb.plateOff || (part !== undefined && part !== 'plate')) return withClimb(after, climb);
  const { shankStands: _, ...found } = after.found;
  return { ...withClimb(after, { ...climb, shank: null, plateOff: true, tries: [] }), found };
}

const afterLook = (after: ScrewContext): ScrewContext => {
  const climb = climbOf(after);
  const tries = climb.tries.filter(({ move }) => after.usedUp.includes(move));
  return withClimb(after, { ...climb, tries, lookIsLine: false });
};

/** What a screw remembers once an event was heard; `after` as every ladder has it. */
export function heard(content: Content, before: ScrewContext, after: ScrewContext, event: ScrewEvent): ScrewContext {
  switch (event.type) {
    case 'move-ended': {
      const running = before.running as RunningMove;
      return afterEnd(before, after, event.entry, made(moveOf(content, running.move), running, event.entry));
    }
    case 'late-ended':
      return afterLate(before, after, event);
    case 'found':
      return afterFinding(before, after, event.entry);
    case 'plate-off':
      return afterPlateOff(after, event.entry);
    case 'reassessed':
      return afterLook(after);
    default:
      return brokenOff(content, before, after);
  }
}
