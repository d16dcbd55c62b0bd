/**
 * The case: unopened → open (briefing → working → closing, with the count beside it) → closed.
 *
 * Pure, like the screw's machine. Screws are machines of their own: `fold.ts` sends both what happened.
 */
import { assign, setup } from 'xstate';
import type { Outcome } from '../content/ids.ts';
import {
  cameBack,
  corrected,
  emptyCase,
  isCaseAnswer,
  withBroken,
  withDamage,
  withFoil,
  withPart,
  withPartEnd,
  withPartOff,
  withTipAnswer,
  withTool,
  type CaseContext,
  type CaseInput,
  type Lifting,
  type Room,
} from './case.context.ts';
import { currentInflation, minutesBetween } from './clocks.ts';
import type { Entry, EntryOf } from './entry.ts';
import { eventOf, type CaseEvent } from './events.ts';
import { givesPause, metalNotCounted, sideTurns, theatreTimeUsedUp, tourniquetLimitReached } from './guards.ts';

/** Did a tool break under the move that ended so? */
const broke = (entry: Entry): boolean => (entry as { outcome?: Outcome }).outcome === 'tool-broke';

/** Metal was cut, or was not, by a move that ended at this corrected time, ms. */
function cutNow(context: CaseContext, at: number, made: boolean) {
  // By its time, a move told late may have been made before the wash-out that is already told.
  const cut = made && (!context.byTime || at > (context.washedAt ?? -Infinity));
  return {
    shavings: context.shavings || cut,
    cutAt: made ? Math.max(context.cutAt ?? -Infinity, at) : context.cutAt,
    answered: cut ? { ...context.answered, shavings: false } : context.answered,
  };
}

/** No section of a bone that broke can be reckoned. */
const withBrokenBone = (room: Room): Room => ({ ...room, said: { ...room.said, broke: true } });

/** What was answered before a bore: that it goes on without a measure, that the bone is thin. */
function afterBoneAnswer(room: Room, { hold, answer, checks }: EntryOf<'hold-answered'>): Room {
  const unmeasured = hold === 'bone-unmeasured' && answer === 'go-on';
  const thin = checks?.thinBone === 'yes';
  if (!unmeasured && !thin) return room;
  const { said } = room;
  return { ...room, said: { ...said, unmeasured: said.unmeasured || unmeasured, thin: said.thin || thin } };
}

/**
 * What was counted before a part is lifted, or before another move on the plate or nail of the case; a word to stop
 * gives it up.
 */
function afterCounting({ lifting, room }: CaseContext, entry: EntryOf<'hold-answered'>): Lifting | null {
  const { n, answer, seen, out } = entry;
  const construct = room.opened?.construct;
  const own = construct === 'plate' || construct === 'nail' ? construct : null;
  const part = lifting?.part ?? own;
  if (part === null || answer === 'stop') return null;
  const of = lifting ?? { part, n, asks: false };
  return { ...of, seen: seen ?? null, out: out ?? null, passed: answer === 'go-on' };
}

/** Why work was stopped, if it is. */
const stopped = (context: CaseContext) => context.stopped?.reason ?? null;

/** What says something of the case at any time, also after it was closed. */
const described = {
  'part-listed': { actions: 'listPart' },
  'part-ended': { actions: 'endPart' },
  'put-in': { actions: 'notePutIn' },
  'case-corrected': { actions: 'correctCase' },
  destroyed: { actions: 'keep' },
  'head-seen': { actions: 'keep' },
  'hole-seen': { actions: 'keep' },
  reassigned: { actions: 'keep' },
  event: { actions: 'keep' },
  aftercare: { actions: 'keep' },
  'move-answered': { actions: 'keep' },
  'format-raised': { actions: 'keep' },
  resumed: { actions: 'keep' },
} as const;

/** What may be found after a case was closed: it changes the account and the papers. */
const foundAfter = {
  'screw-listed': { guard: 'follows', actions: 'keep' },
  'piece-recovered': { guard: 'follows', actions: 'notePiece' },
  'left-in': { guard: 'follows', actions: 'noteLeft' },
  'tool-damaged': { guard: 'follows', actions: 'noteDamage' },
  'count-answered': { guard: 'follows', actions: 'keep' },
  'length-answered': { guard: 'follows', actions: 'keep' },
  struck: { guard: 'follows', actions: 'keep' },
  // Without these the times of what follows could not be read.
  'clock-compared': { guard: 'follows', actions: 'keep' },
  'clock-jumped': { guard: 'follows', actions: 'keep' },
} as const;

/** What was not told before a case was closed, of the time before that. */
const toldAfter = {
  'person-listed': { guard: 'wasBefore', actions: 'notePerson' },
  'bone-measured': { guard: 'wasBefore', actions: 'measureBone' },
  'tool-in-room': { guard: 'wasBefore', actions: 'noteTool' },
  'consent-point': { guard: 'wasBefore', actions: 'noteConsent' },
  'limits-set': { guard: 'wasBefore', actions: 'setLimits' },
  'work-started': [
    { guard: 'begunBefore', actions: 'startWork' },
    { guard: 'wasBefore', actions: 'keep' },
  ],
  'work-ended': [
    { guard: 'endedBefore', actions: 'endWork' },
    { guard: 'wasBefore', actions: 'keep' },
  ],
  'screw-called': { guard: 'wasBefore', actions: 'keep' },
  reassessed: { guard: 'wasBefore', actions: 'keep' },
  'hold-answered': { guard: 'wasBefore', actions: 'keep' },
  'colleague-called': { guard: 'wasBefore', actions: 'keep' },
  deferred: { guard: 'wasBefore', actions: 'keep' },
  stopped: { guard: 'stoppedBefore', actions: 'stop' },
  found: { guard: 'wasBefore', actions: 'keep' },
  'plate-off': { guard: 'wasBefore', actions: 'plateOff' },
  'part-move': { guard: 'wasBefore', actions: 'movePart' },
  tourniquet: { guard: 'wasBefore', actions: 'noteCuff' },
  images: { guard: 'wasBefore', actions: 'noteImages' },
  antibiotic: { guard: 'wasBefore', actions: 'noteDose' },
  'blood-loss': { guard: 'wasBefore', actions: 'keep' },
  'washed-out': { guard: 'wasBefore', actions: 'washOut' },
  checked: { guard: 'wasBefore', actions: 'keep' },
  'at-tablet': { guard: 'wasBefore', actions: 'keep' },
} as const;

/** Told after the case was closed, in a format that hears it. */
const isAfter = (event: CaseEvent): boolean => 'afterClosing' in event && event.afterClosing === true;
/** The same, of the time before the closing. */
const isOfBefore = ({ closedAt }: CaseContext, event: CaseEvent): boolean =>
  isAfter(event) && event.corrected < (closedAt ?? -Infinity);

const machine = setup({
  types: { context: {} as CaseContext, events: {} as CaseEvent, input: {} as CaseInput },
  guards: {
    counted: ({ context, event }) => {
      const { entry, unaccounted } = eventOf(event, 'count-answered');
      return !metalNotCounted(entry, unaccounted, stopped(context));
    },
    /** A tip is missing that was not when the metal was counted: entered as damage, or by the end of a move. */
    tipBroke: ({ context, event }) =>
      event.type === 'tool-damaged'
        ? withDamage(context.tips, event.entry).length > context.tips.length
        : broke(event.entry),
    atWork: ({ context }) => context.workStarted !== null,
    follows: ({ event }) => isAfter(event),
    wasBefore: ({ context, event }) => isOfBefore(context, event),
    begunBefore: ({ context, event }) => context.workStarted === null && isOfBefore(context, event),
    endedBefore: ({ context, event }) =>
      context.workStarted !== null && context.workEnded === null && isOfBefore(context, event),
    stoppedBefore: ({ context, event }) => context.workStarted !== null && isOfBefore(context, event),
    /** Somebody says that the count does not agree, and nobody has looked yet. */
    someoneDisagrees: ({ context, event }) => {
      const { entry } = eventOf(event, 'count-answered');
      return context.byTime && entry.discrepancy !== undefined && metalNotCounted(entry, true, stopped(context));
    },
  },
  actions: {
    keep: () => {},
    open: assign(({ context, event }) => {
      const { entry } = eventOf(event, 'case-opened');
      return {
        room: { ...context.room, opened: entry },
        theatreMinutes: entry.theatreMinutes ?? context.theatreMinutes,
      };
    }),
    notePerson: assign(({ context, event }) => ({
      people: [...context.people, eventOf(event, 'person-listed').entry],
    })),
    measureBone: assign(({ context, event }) => {
      const { screw, outer, cortex, source, place } = eventOf(event, 'bone-measured').entry;
      const bone = { outer, cortex, source, ...(place && { place }) };
      const { room } = context;
      return { room: screw === undefined ? { ...room, bone } : { ...room, boneAt: { ...room.boneAt, [screw]: bone } } };
    }),
    noteTool: assign(({ context, event }) => ({
      room: { ...context.room, tools: withTool(context.room.tools, eventOf(event, 'tool-in-room').entry) },
    })),
    noteConsent: assign(({ context, event }) => {
      const { point, confirmed } = eventOf(event, 'consent-point').entry;
      return { consent: { ...context.consent, [point]: confirmed } };
    }),
    setLimits: assign(({ context, event }) => {
      const { boneConsider, boneStop, tourniquetMinutes, theatreMinutes } = eventOf(event, 'limits-set').entry;
      const limits = {
        boneConsider: boneConsider ?? context.room.limits.boneConsider,
        boneStop: boneStop ?? context.room.limits.boneStop,
      };
      return {
        room: { ...context.room, limits },
        tourniquetLimit: tourniquetMinutes ?? context.tourniquetLimit,
        theatreMinutes: theatreMinutes ?? context.theatreMinutes,
      };
    }),
    startWork: assign({ workStarted: ({ event }) => event.corrected }),
    endWork: assign({ workEnded: ({ event }) => event.corrected }),
    close: assign({ closedAt: ({ event }) => event.corrected }),
    resumeWork: assign({ workEnded: null }),
    call: assign(({ context, event }) => {
      const { screw } = eventOf(event, 'screw-called').entry;
      return { called: screw, ...cameBack(context, screw) };
    }),
    // A move takes back that the work was stopped.
    callByMove: assign(({ context, event }) => {
      const { entry, told, corrected: at } = eventOf(event, 'move-started');
      if (told) return context.called !== null ? {} : { called: entry.screw };
      const back = cameBack(context, entry.screw);
      return { called: entry.screw, stopped: null, ...back, movedAt: Math.max(context.movedAt ?? -Infinity, at) };
    }),
    defer: assign(({ context, event }) => {
      const { entry, cut, passed } = eventOf(event, 'deferred');
      if (passed) return {};
      const waiting = [...cameBack(context, entry.screw).waiting, entry.screw];
      return {
        ...cutNow(context, event.corrected, cut),
        waiting,
        ...(context.called === entry.screw && { called: null }),
      };
    }),
    stop: assign(({ context, event }) => {
      const { entry, corrected: at, cut } = eventOf(event, 'stopped');
      const { n, reason, text } = entry;
      const before = context.stopped;
      // Told late, it was taken back by the move that was begun after it.
      if (context.movedAt !== null && at < context.movedAt && before === null) return cutNow(context, at, cut);
      return {
        ...cutNow(context, at, cut),
        stopped: { n: before?.n ?? n, reason: reason ?? before?.reason, text: text ?? before?.text },
      };
    }),
    turnSide: assign(({ context, event }) => {
      const { opened } = context.room;
      const { entry } = eventOf(event, 'case-corrected');
      return opened && sideTurns(opened, entry, context.workStarted) ? { pause: entry.n } : {};
    }),
    noteEvent: assign(({ context, event }) => {
      const { entry } = eventOf(event, 'event');
      if (!givesPause(entry)) return {};
      return { pause: entry.n, ...(entry.kind === 'bone-broke' && { room: withBrokenBone(context.room) }) };
    }),
    noteChecked: assign(({ context, event }) => {
      const { what, size } = eventOf(event, 'checked').entry;
      return { checked: [...context.checked, size === undefined ? what : `${what} ${size}`] };
    }),
    noteColleague: assign({ colleague: true }),
    correctCase: assign(({ context, event }) => {
      const { opened } = context.room;
      return opened
        ? { room: { ...context.room, opened: corrected(opened, eventOf(event, 'case-corrected').entry) } }
        : {};
    }),
    listPart: assign(({ context, event }) => ({
      parts: withPart(context.parts, eventOf(event, 'part-listed').entry),
    })),
    endPart: assign(({ context, event }) => withPartEnd(context, eventOf(event, 'part-ended').entry)),
    movePart: assign(({ context, event }) => {
      const { part, move, outcome, tool, n } = eventOf(event, 'part-move').entry;
      // By ladder 2 the touch only asks for the lift: that the part is off is told by itself.
      const asks = move === 'lift' && outcome === undefined && context.ladder > 1;
      if (asks) return { lifting: { part, n, seen: null, out: null, passed: false, asks } };
      const broken = outcome === 'bone-broke' ? { room: withBrokenBone(context.room), pause: n } : {};
      const isOff = outcome === 'out' || (move === 'lift' && outcome !== 'no-change');
      // A word on what still holds it stands for the next blow, too, until it is off.
      const isOver = context.lifting?.part === part && (isOff || context.lifting.asks);
      const lifting = isOver ? null : context.lifting;
      const tips = outcome === 'tool-broke' && tool ? withBroken(context.tips, { tool, named: true }, n) : context.tips;
      if (!isOff) return { tips, lifting, ...broken };
      // What came out is off the bone and out; what was lifted is off the bone alone.
      const parts = withPartOff(context.parts, part, n, outcome === 'out');
      return { tips, parts, lifting, room: part === 'plate' ? { ...context.room, plateOff: true } : context.room };
    }),
    packFoil: assign(({ context, event }) => {
      const { screw, move, n } = (event as Extract<CaseEvent, { type: 'move-started' | 'late-started' }>).entry;
      return move === 'pack-recess' && context.byTime ? { parts: withFoil(context.parts, screw, n) } : {};
    }),
    notePutIn: assign(({ context, event }) => {
      const { entry, again } = eventOf(event, 'put-in');
      const { n, part, screw, kind, length, where } = entry;
      return { putIn: [...context.putIn, { n, part, screw, kind, length, where, ends: [], again }] };
    }),
    noteCount: assign(({ event }) => ({ counted: eventOf(event, 'count-answered').open })),
    noteEnd: assign(({ context, event }) => {
      const { entry, ended } = event as Extract<
        CaseEvent,
        { type: 'move-ended' | 'move-started' | 'left-in' | 'late-ended' }
      >;
      const made = ended !== null && ended.move.shavings;
      return {
        ...cutNow(context, event.corrected, made),
        tips:
          ended && broke(entry)
            ? withBroken(context.tips, ended, entry.n, context.byTime ? event.corrected : undefined)
            : context.tips,
      };
    }),
    plateOff: assign(({ context, event }) => {
      const { entry, format = 1 } = eventOf(event, 'plate-off');
      const part = entry.part ?? 'plate';
      const { room } = context;
      return {
        room: part === 'plate' ? { ...room, plateOff: true } : room,
        lifting: context.lifting?.part === part ? null : context.lifting,
        parts: context.byTime ? withPartOff(context.parts, part, entry.n, format < 2) : context.parts,
      };
    }),
    noteLeft: assign(({ context, event }) => {
      const { tool, length, imageTaken, tip = null } = eventOf(event, 'left-in').entry;
      return tool === undefined
        ? {}
        : { tipsLeft: [...context.tipsLeft, { tool, length, image: imageTaken === true, tip }] };
    }),
    notePiece: assign(({ context, event }) => {
      const { tool, length, lengthHow, tip = null, complete, whole } = eventOf(event, 'piece-recovered').entry;
      if (tool === undefined) return {};
      // What was only reckoned was measured by nobody.
      const known = lengthHow === 'difference' ? null : (length ?? null);
      const piece = {
        ...{ tool, length: known, image: lengthHow === 'image', tip, complete: (complete ?? whole) === true },
        ...(context.byTime && { at: event.corrected }),
      };
      return { tipPieces: [...context.tipPieces, piece] };
    }),
    noteDamage: assign(({ context, event }) => ({
      tips: withDamage(context.tips, eventOf(event, 'tool-damaged').entry),
    })),
    noteImages: assign(({ context, event }) => ({ shots: context.shots + eventOf(event, 'images').entry.shots })),
    noteDose: assign(({ context, event }) => {
      const dose = { drug: eventOf(event, 'antibiotic').entry.drug, corrected: event.corrected };
      return { lastDose: context.lastDose && context.lastDose.corrected > dose.corrected ? context.lastDose : dose };
    }),
    washOut: assign(({ context, event }) => ({
      shavings: context.byTime && context.shavings && (context.cutAt ?? -Infinity) > event.corrected,
      washedAt: Math.max(context.washedAt ?? -Infinity, event.corrected),
    })),
    noteCuff: assign(({ event }) => {
      const { cuff, inflations } = eventOf(event, 'tourniquet');
      return { cuff, inflations };
    }),
    /** An answer counts only once the hold stands: a word at the notice does not spend it. */
    noteAnswer: assign(({ context, event }) => {
      const { entry } = eventOf(event, 'hold-answered');
      const { hold, answer } = entry;
      if (hold === 'stop-and-think') return { pause: null };
      if (hold === 'find-tip') return withTipAnswer(context, entry);
      if (hold === 'still-fixed') return { lifting: afterCounting(context, entry) };
      if (hold === 'second-surgeon') return answer === 'called' ? { colleague: true } : {};
      if (hold === 'bone-unmeasured' || hold === 'bone-consider') return { room: afterBoneAnswer(context.room, entry) };
      const inflation = currentInflation(context);
      if (
        hold === 'tourniquet' &&
        inflation &&
        tourniquetLimitReached(minutesBetween(inflation.up, event.corrected), context.tourniquetLimit)
      )
        return { inflations: context.inflations.with(-1, { ...inflation, answered: true }) };
      if (hold === 'shavings' && context.workEnded === null) return {};
      if (!isCaseAnswer(hold)) return {};
      const worked = context.workStarted === null ? null : minutesBetween(context.workStarted, event.corrected);
      return hold === 'time' && !theatreTimeUsedUp(worked, context.theatreMinutes)
        ? {}
        : { answered: { ...context.answered, [hold]: true } };
    }),
  },
}).createMachine({
  id: 'case',
  // As for a screw: XState also asks without input.
  context: ({ input }: { input?: CaseInput }) => (input ? emptyCase(input) : ({} as CaseContext)),
  initial: 'unopened',
  states: {
    unopened: { on: { 'case-opened': { target: 'open', actions: 'open' } } },
    open: {
      type: 'parallel',
      on: {
        'person-listed': { actions: 'notePerson' },
        'bone-measured': { actions: 'measureBone' },
        'screw-listed': { actions: 'keep' },
        'tool-in-room': { actions: 'noteTool' },
        'consent-point': { actions: 'noteConsent' },
        'limits-set': { actions: 'setLimits' },
        'screw-called': { actions: 'call' },
        'move-ended': { actions: 'noteEnd' },
        'late-started': { actions: 'packFoil' },
        'late-ended': { actions: 'noteEnd' },
        reassessed: { actions: 'keep' },
        'hold-answered': { actions: 'noteAnswer' },
        found: { actions: 'keep' },
        'plate-off': { actions: 'plateOff' },
        'colleague-called': { actions: 'noteColleague' },
        'left-in': { actions: ['noteEnd', 'noteLeft'] },
        'piece-recovered': { actions: 'notePiece' },
        'tool-damaged': { actions: 'noteDamage' },
        tourniquet: { actions: 'noteCuff' },
        images: { actions: 'noteImages' },
        antibiotic: { actions: 'noteDose' },
        'blood-loss': { actions: 'keep' },
        'washed-out': { actions: 'washOut' },
        'clock-compared': { actions: 'keep' },
        'clock-jumped': { actions: 'keep' },
        'note-field': { actions: 'keep' },
        'patient-told': { actions: 'keep' },
        signed: { actions: 'keep' },
        remark: { actions: 'keep' },
        struck: { actions: 'keep' },
        'count-answered': { actions: 'keep' },
        'case-closed': { target: 'closed', actions: 'close' },
        ...described,
        deferred: { actions: 'defer' },
        stopped: { guard: 'atWork', actions: 'stop' },
        'part-move': { actions: 'movePart' },
        'length-answered': { actions: 'keep' },
        checked: { actions: 'noteChecked' },
        event: { actions: 'noteEvent' },
        'case-corrected': { actions: ['turnSide', 'correctCase'] },
        'at-tablet': { actions: 'keep' },
      },
      states: {
        phase: {
          initial: 'briefing',
          states: {
            briefing: { on: { 'work-started': { target: 'working', actions: 'startWork' } } },
            working: {
              on: {
                'move-started': { actions: ['noteEnd', 'callByMove', 'packFoil'] },
                'work-ended': { target: 'closing', actions: 'endWork' },
              },
            },
            closing: {
              on: {
                'move-started': { target: 'working', actions: ['noteEnd', 'callByMove', 'packFoil', 'resumeWork'] },
                'work-ended': { actions: 'keep' },
              },
            },
          },
        },
        count: {
          initial: 'later',
          states: {
            later: { on: { 'work-ended': { guard: 'atWork', target: 'open' } } },
            open: {
              on: {
                'count-answered': { guard: 'counted', target: 'answered', actions: 'noteCount' },
                'move-started': 'later',
              },
            },
            answered: {
              on: {
                'move-started': 'later',
                // What became open since, or what somebody says does not agree.
                'count-reopened': 'open',
                'count-answered': [
                  { guard: 'someoneDisagrees', target: 'open' },
                  { guard: 'counted', actions: 'noteCount' },
                ],
                'tool-damaged': { guard: 'tipBroke', target: 'open', actions: 'noteDamage' },
                'move-ended': { guard: 'tipBroke', target: 'open', actions: 'noteEnd' },
              },
            },
          },
        },
      },
    },
    closed: {
      on: {
        'late-started': { actions: 'packFoil' },
        'late-ended': { actions: 'noteEnd' },
        'note-field': { actions: 'keep' },
        'patient-told': { actions: 'keep' },
        signed: { actions: 'keep' },
        remark: { actions: 'keep' },
        ...described,
        ...foundAfter,
        ...toldAfter,
      },
    },
  },
});

/** The statechart of a case. */
export const caseMachine = machine;
export type CaseMachine = typeof machine;
