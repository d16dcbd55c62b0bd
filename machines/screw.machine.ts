/**
 * One screw: seated → recess-stripped → head-sheared → fragment-retained → out or left-in, the move that is running on
 * it, and its two standing holds. A stage only moves down or to an end.
 *
 * Pure: meant for `initialTransition` and `transition`. An entry that the present state does not accept is refused by
 * `snapshot.can`; nothing here throws.
 */
import { assign, setup } from 'xstate';
import type { WorkingStage } from '../content/ids.ts';
import { moveOf } from '../content/moves.ts';
import type { Content } from '../content/types.ts';
import type { EntryOf } from './entry.ts';
import { eventOf, type EntryEvent, type LateStart, type RunningMove, type ScrewEvent } from './events.ts';
import { considerSecondSurgeon, stopTurningAfterOneSlip } from './guards.ts';
import { madeMove, secondOf, stageAfter } from './second-ladder.ts';
import {
  abandoned,
  afterEnd,
  afterFinding,
  afterLateEnd,
  afterLeaving,
  afterLengthAnswer,
  afterPiece,
  afterReassessment,
  depth,
  isWorking,
  listed,
  reckoned,
  setAside,
  slipStrips,
  type ScrewContext,
  type ScrewInput,
} from './screw.context.ts';

/** A move as a screw remembers it while it runs. */
const runningOf = (
  { entry, corrected, projected, among }: Pick<LateStart, 'entry' | 'corrected' | 'projected' | 'among'>,
  answered: RunningMove['answered'],
): RunningMove => ({
  ...{ move: entry.move, entry: entry.n, corrected, tool: entry.tool },
  ...{ bores: entry.bores ?? projected, answered },
  ...(among && { among }),
});

const leftBy = (screw: ScrewContext, { entry, format = 1 }: EntryEvent<'left-in'>): ScrewContext =>
  afterLeaving(screw, entry, format);

type Guarded = { context: ScrewContext; event: ScrewEvent };

/** The end that this event reports, if it can have happened: a move is running, and a head that is gone cannot shear again. */
function endOf({ context, event }: Guarded): EntryOf<'move-ended'> | null {
  if (event.type !== 'move-ended' || context.running === null) return null;
  const again = event.entry.outcome === 'head-sheared' && depth(context.stage) >= depth('head-sheared');
  return again ? null : event.entry;
}

const isByFirstRules = (event: ScrewEvent): boolean => 'rules' in event && event.rules === 1;

/** Out, but shorter than it was listed, and it is not known to have broken: it counts as in until somebody says why. */
const isShort = ({ context, event }: Guarded): boolean =>
  event.type === 'move-ended' && event.short === true && context.breaks.length === 0;

function build(content: Content) {
  const second = secondOf(content);
  const running = (screw: ScrewContext, end?: EntryOf<'move-ended'>) => {
    const { running: now } = screw as { running: RunningMove };
    return madeMove(content, moveOf(content, now.move), now, end);
  };
  const asksForSecond = second?.asksForSecond ?? considerSecondSurgeon;
  const stopsTurning = second?.stopsTurning ?? stopTurningAfterOneSlip;
  /** An assigner whose event the second ladder remembers in its own way. */
  const remembered =
    (change: (args: Guarded) => Partial<ScrewContext>) =>
    ({ context, event }: Guarded): Partial<ScrewContext> => {
      const after = change({ context, event });
      return second ? second.heard(content, context, { ...context, ...after }, event) : after;
    };

  const machine = setup({
    types: { context: {} as ScrewContext, events: {} as ScrewEvent, input: {} as ScrewInput },
    guards: {
      stillIn: ({ context }) => isWorking(context.stage),
      canEnd: (args) => endOf(args) !== null,
      listedNoHigher: ({ context, event }) => {
        const { stage } = eventOf(event, 'screw-listed').entry;
        return stage === undefined || depth(stage) >= depth(context.stage);
      },
      listedAs: ({ context, event }, { stage }: { stage: WorkingStage }) => {
        const { entry, afterClosing } = eventOf(event, 'screw-listed');
        return entry.stage === stage && depth(stage) > depth(context.stage) && afterClosing !== true;
      },
      startsAs: ({ context }, { stage }: { stage: WorkingStage }) => context.stage === stage,
      cameOut: (args) => endOf(args)?.outcome === 'out' && !isShort(args),
      /** All of it is out, by what was seen or laid together. */
      allOfIt: ({ event }) => {
        const { entry, afterClosing } = eventOf(event, 'piece-recovered');
        return (entry.whole === true || entry.complete === true) && afterClosing !== true;
      },
      leavesNow: ({ context, event }) => isWorking(context.stage) && eventOf(event, 'left-in').afterClosing !== true,
      leftAfter: ({ event }) => eventOf(event, 'left-in').afterClosing === true,
      /** It stays by the last word on it, and another one is said before the case is closed. */
      leavesAgain: ({ event }) => {
        const { afterClosing, rules } = eventOf(event, 'left-in');
        return afterClosing !== true && rules !== 1;
      },
      lengthAsked: ({ context, event }) =>
        context.lengthAsked !== null && eventOf(event, 'length-answered').afterClosing !== true,
      askedAfter: ({ context, event }) =>
        context.lengthAsked !== null && eventOf(event, 'length-answered').afterClosing === true,
      /** It broke, and the rest is still in, this deep. */
      restIn: ({ context, event }, { stage }: { stage: WorkingStage }) => {
        const { entry, afterClosing } = eventOf(event, 'length-answered');
        const { answer, reachable } = entry;
        const { lengthAsked } = context;
        if (answer !== 'broke' || lengthAsked === null || afterClosing === true) return false;
        const deep = !reachable || depth(lengthAsked.stage) >= depth('fragment-retained');
        return stage === (deep ? 'fragment-retained' : 'head-sheared');
      },
      headSheared: (args) => {
        const outcome = endOf(args)?.outcome;
        const { stage } = args.context;
        // Rules 1 took a head for drilled off only where the recess was stripped.
        const onPurpose =
          outcome === 'set-up-done' &&
          (stage === 'recess-stripped' || !isByFirstRules(args.event)) &&
          running(args.context).aim === 'head-sheared';
        return outcome === 'head-sheared' || onPurpose;
      },
      shankBroke: (args, { reachable }: { reachable: boolean }) => {
        const end = endOf(args);
        return end?.outcome === 'shank-broke' && end.reachable === reachable;
      },
      slippedInRecess: (args) => {
        const end = endOf(args);
        if (end === null) return false;
        const move = running(args.context, end);
        return second?.strips(args.context, end, move) ?? slipStrips(end, move);
      },
      stopTurningAfterOneSlip: (args) => {
        const end = endOf(args);
        return end !== null && stopsTurning(args.context, end, running(args.context));
      },
      considerSecondSurgeon: (args) => {
        const end = endOf(args);
        return end !== null && asksForSecond(args.context, end, running(args.context, end));
      },
      toldDeeper: ({ context, event }, { stage }: { stage: ScrewContext['stage'] }) => {
        const { entry, move, stageThen, movesStage } = eventOf(event, 'late-ended');
        return (
          movesStage &&
          isWorking(context.stage) &&
          stageAfter(content, context, entry, move, stageThen) === stage &&
          depth(stage) > depth(context.stage)
        );
      },
      lateSlip: ({ context, event }) => {
        const { entry, isNewest, move } = eventOf(event, 'late-ended');
        return isNewest && isWorking(context.stage) && stopsTurning(context, entry, move);
      },
      lateSecondSurgeon: ({ context, event }) => {
        const { entry, move, isNewest } = eventOf(event, 'late-ended');
        return isNewest && isWorking(context.stage) && asksForSecond(context, entry, move);
      },
      answersReassess: ({ event }) => eventOf(event, 'hold-answered').entry.hold === 'reassess',
      answersSecondSurgeon: ({ event }) => eventOf(event, 'hold-answered').entry.hold === 'second-surgeon',
    },
    actions: {
      keep: () => {},
      reach: assign(({ context }, { stage }: { stage: ScrewContext['stage'] }) =>
        context.stage === stage ? {} : { stage, usedUp: [], reassessed: false, ...second?.reached(context, stage) },
      ),
      replaceFacts: assign(({ context, event }) => {
        const { entry } = eventOf(event, 'screw-listed');
        const stage = entry.stage ?? 'seated';
        // A deeper stage told after a move is a finding; its length stays that of the whole screw.
        const isTold = context.breaks.some(({ n }) => n === entry.n);
        const found = !isTold && context.ends > 0 && depth(stage) > depth(context.stage);
        const breaks = found
          ? [...context.breaks, { n: entry.n, what: 'found' as const, afterEnd: false }]
          : context.breaks;
        return {
          facts: reckoned(entry),
          breaks,
          brokenFromStart: context.brokenFromStart || (context.ends === 0 && stage !== 'seated'),
        };
      }),
      start: assign(({ context, event }) => {
        const started = eventOf(event, 'move-started');
        // What was answered ahead was answered for the next move asked about, not for one told late.
        const waits = started.waits && { waits: true };
        return started.late
          ? { running: { ...runningOf(started, []), ...waits } }
          : {
              running: { ...runningOf(started, context.answered), ...waits },
              answered: [],
              turned: context.turned || started.move.id === 'turn-out',
              ...(started.farWall && { farWalls: [...context.farWalls, started.farWall] }),
            };
      }),
      startLate: assign(({ context, event }) => ({
        lateOpen: [...context.lateOpen, runningOf(eventOf(event, 'late-started'), [])],
      })),
      endLate: assign(remembered(({ context, event }) => afterLateEnd(context, eventOf(event, 'late-ended')))),
      end: assign(
        remembered(({ context, event }) => {
          const { entry, short } = eventOf(event, 'move-ended');
          const lengthAsked = short ? { n: entry.n, stage: context.stage } : context.lengthAsked;
          return { ...afterEnd(context, entry, running(context, entry)), lengthAsked };
        }),
      ),
      leave: assign(({ context, event }) => leftBy(context, eventOf(event, 'left-in'))),
      leaveAfter: assign(({ context, event }) => ({
        ...leftBy(context, eventOf(event, 'left-in')),
        foundAfter: 'stays' as const,
      })),
      notePiece: assign(({ context, event }) => {
        const { entry, afterClosing, short } = eventOf(event, 'piece-recovered');
        const after = afterPiece(context, entry, afterClosing === true);
        return short ? { ...after, lengthAsked: { n: entry.n, stage: context.facts.stage ?? 'seated' } } : after;
      }),
      noteLengthAnswerAfter: assign(({ context, event }) => {
        const { entry } = eventOf(event, 'length-answered');
        return { ...afterLengthAnswer(context, entry), foundAfter: entry.answer === 'broke' ? null : ('out' as const) };
      }),
      noteLengthAnswer: assign(({ context, event }) =>
        afterLengthAnswer(context, eventOf(event, 'length-answered').entry),
      ),
      noteDestroyed: assign(({ context, event }) => {
        const { what, length = null, lengthHow = null } = eventOf(event, 'destroyed').entry;
        return { destroyed: [...context.destroyed, { what, length, how: lengthHow }] };
      }),
      noteHead: assign(({ event }) => {
        const { head, part = null, piece = null } = eventOf(event, 'head-seen').entry;
        return { head: { place: head, part, piece } };
      }),
      abandon: assign(remembered(({ context }) => abandoned(context))),
      setAside: assign(({ context }) => setAside(context)),
      noteFound: assign(remembered(({ context, event }) => afterFinding(context, eventOf(event, 'found').entry))),
      plateIsOff: assign(remembered(() => ({ shankProud: true }))),
      reassessAfterSlip: assign(remembered(({ context }) => afterReassessment(context, false))),
      reassessFreely: assign(remembered(({ context }) => afterReassessment(context, true))),
      noteAnswer: assign(({ context, event }) => {
        const { hold, answer } = eventOf(event, 'hold-answered').entry;
        // Who heeds a hold goes another way: the move it stands before is asked about again.
        if (content.ladder === 2 && (answer === 'heeded' || answer === 'stop')) return {};
        const both = hold === 'bone-stop' ? (['bone-stop', 'bone-consider'] as const) : [hold];
        return { answered: [...new Set([...context.answered, ...both])] };
      }),
      forgetFailures: assign({ withoutGain: 0 }),
      /** Who is called stays called; a word to go on lets it be asked once more, no one to be had ends the asking. */
      noteSecond: assign(({ context, event }) => {
        const answer = event.type === 'hold-answered' ? event.entry.answer : 'called';
        if (answer === 'called') return { colleague: true };
        return { secondAsked: answer === 'not-available' ? 2 : context.secondAsked + 1 };
      }),
    },
  });

  const reach = (stage: ScrewContext['stage']) => ({ type: 'reach' as const, params: { stage } });
  const relisted = (...stages: WorkingStage[]) =>
    stages.map((stage) => ({
      guard: { type: 'listedAs' as const, params: { stage } },
      target: stage,
      actions: 'replaceFacts' as const,
    }));
  const out = { guard: 'cameOut' as const, target: 'out' };
  const sheared = { guard: 'headSheared' as const, target: 'head-sheared' };
  const stump = { guard: { type: 'shankBroke' as const, params: { reachable: true } }, target: 'head-sheared' };
  const deep = { guard: { type: 'shankBroke' as const, params: { reachable: false } }, target: 'fragment-retained' };
  const stripped = { guard: 'slippedInRecess' as const, target: 'recess-stripped' };
  const allOfIt = {
    'piece-recovered': { guard: 'allOfIt' as const, target: 'out', actions: 'notePiece' as const },
  } as const;
  const answered = {
    'length-answered': [
      ...(['head-sheared', 'fragment-retained'] as const).map((stage) => ({
        ...{ guard: { type: 'restIn' as const, params: { stage } }, target: stage },
        actions: 'noteLengthAnswer' as const,
      })),
      { guard: 'lengthAsked' as const, target: 'out', actions: 'noteLengthAnswer' as const },
    ],
  };
  const left = { 'left-in': { guard: 'leavesNow' as const, target: 'left-in' }, ...allOfIt, ...answered } as const;
  const startsAs = (stage: WorkingStage) => ({
    guard: { type: 'startsAs' as const, params: { stage } },
    target: stage,
  });

  return machine.createMachine({
    id: 'screw',
    type: 'parallel',
    // XState also asks without input, for throw-away actors: a throw there costs more than a transition.
    context: ({ input }: { input?: ScrewInput }) => {
      if (!input) return {} as ScrewContext;
      return second ? second.listed(listed(input), input.plateOff) : listed(input);
    },
    on: {
      'screw-listed': { guard: 'listedNoHigher', actions: 'replaceFacts' },
      'screw-called': { guard: 'stillIn', actions: 'keep' },
      'piece-recovered': { actions: 'notePiece' },
      'left-in': { guard: 'leftAfter', actions: 'leaveAfter' },
      'length-answered': { guard: 'askedAfter', actions: 'noteLengthAnswerAfter' },
      destroyed: { actions: 'noteDestroyed' },
      'head-seen': { actions: 'noteHead' },
      deferred: { guard: 'stillIn', actions: 'keep' },
      stopped: { actions: 'keep' },
      found: { actions: 'noteFound' },
      'plate-off': { actions: 'plateIsOff' },
    },
    states: {
      stage: {
        initial: 'listed',
        on: {
          'late-ended': (['out', 'fragment-retained', 'head-sheared', 'recess-stripped'] as const).map((stage) => ({
            guard: { type: 'toldDeeper' as const, params: { stage } },
            target: `.${stage}` as const,
          })),
        },
        states: {
          listed: {
            always: [
              startsAs('recess-stripped'),
              startsAs('head-sheared'),
              startsAs('fragment-retained'),
              { target: 'seated' },
            ],
          },
          seated: {
            on: {
              'move-ended': [out, sheared, stump, deep, stripped],
              'screw-listed': relisted('recess-stripped', 'head-sheared', 'fragment-retained'),
              ...left,
            },
          },
          'recess-stripped': {
            entry: reach('recess-stripped'),
            on: {
              'move-ended': [out, sheared, stump, deep],
              'screw-listed': relisted('head-sheared', 'fragment-retained'),
              ...left,
            },
          },
          'head-sheared': {
            entry: reach('head-sheared'),
            on: { 'move-ended': [out, deep], 'screw-listed': relisted('fragment-retained'), ...left },
          },
          'fragment-retained': { entry: reach('fragment-retained'), on: { 'move-ended': [out], ...left } },
          out: { entry: reach('out'), on: answered },
          'left-in': {
            entry: reach('left-in'),
            on: { ...allOfIt, 'left-in': { guard: 'leavesAgain', actions: 'leave' } },
          },
        },
      },
      hand: {
        initial: 'empty',
        on: { 'late-started': { actions: 'startLate' }, 'late-ended': { actions: 'endLate' } },
        states: {
          empty: {
            on: {
              'move-started': { guard: 'stillIn', target: 'moving', actions: 'start' },
              'left-in': { guard: 'leavesNow', actions: 'leave' },
            },
          },
          moving: {
            on: {
              'move-ended': { guard: 'canEnd', target: 'empty', actions: 'end' },
              'left-in': { guard: 'leavesNow', target: 'empty', actions: 'leave' },
              'piece-recovered': { guard: 'allOfIt', target: 'empty' },
              deferred: { target: 'empty', actions: 'abandon' },
              stopped: { target: 'empty', actions: 'abandon' },
              'set-aside': { target: 'empty', actions: 'setAside' },
            },
          },
        },
      },
      reassess: {
        initial: 'closed',
        states: {
          closed: {
            on: {
              'move-ended': { guard: 'stopTurningAfterOneSlip', target: 'open' },
              'late-ended': { guard: 'lateSlip', target: 'open' },
              reassessed: { actions: 'reassessFreely' },
            },
          },
          open: {
            on: {
              reassessed: { target: 'closed', actions: 'reassessAfterSlip' },
              'hold-answered': { guard: 'answersReassess', target: 'closed' },
            },
          },
        },
      },
      'second-surgeon': {
        initial: 'closed',
        states: {
          closed: {
            on: {
              'move-ended': { guard: 'considerSecondSurgeon', target: 'open' },
              'late-ended': { guard: 'lateSecondSurgeon', target: 'open' },
              'colleague-called': { actions: ['forgetFailures', 'noteSecond'] },
              'hold-answered': { guard: 'answersSecondSurgeon', actions: 'forgetFailures' },
            },
          },
          open: {
            on: {
              'colleague-called': { target: 'closed', actions: ['forgetFailures', 'noteSecond'] },
              'hold-answered': {
                ...({ guard: 'answersSecondSurgeon', target: 'closed' } as const),
                actions: ['forgetFailures', 'noteSecond'],
              },
            },
          },
        },
      },
      answers: {
        initial: 'kept',
        states: { kept: { on: { 'hold-answered': { actions: 'noteAnswer' } } } },
      },
    },
  });
}

export type ScrewMachine = ReturnType<typeof build>;
const machines = new WeakMap<Content, ScrewMachine>();

/** The statechart of a screw, with the moves of one content version. Built once per version. */
export function screwMachine(content: Content): ScrewMachine {
  let machine = machines.get(content);
  if (!machine) {
    machine = build(content);
    machines.set(content, machine);
  }
  return machine;
}
