/** What the table screen knows besides the case: which panel is open, what is about to start, when the next entry was. */
import { batch, createMemo, createSignal } from 'solid-js';
import type { AnyMoveId, Answer, HoldId, MoveId, ToolId } from '../../../content/ids.ts';
import { comesAlong } from '../../../content/catalog.ts';
import { moveOf as moveIn } from '../../../content/moves.ts';
import type { Move } from '../../../content/types.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import { toolsOf } from '../../../machines/fitting.ts';
import { isWorking, lookReopens, type ScrewContext } from '../../../machines/screw.context.ts';
import type { RunningMove } from '../../../machines/events.ts';
import type { OfferedMove, ScrewView, UnknownFact } from '../../../machines/view.types.ts';
import { effective } from '../../session/effective.ts';
import type { RecordResult, When } from '../../session/session.ts';
import type { App } from '../app.ts';
import { outcomeWords } from '../failure-words.ts';
import { deferred } from '../../deferred.ts';
import { leaveKey, numberAt } from '../numbers.ts';
import { handOver, takeOver } from './handed.ts';
import { takenUpAsk, type Ask } from './taken-up.ts';

/** What is asked after a move, with its words: no resumed case needs it at once. */
const asks = deferred(() =>
  Promise.all([import('./asks.ts'), import('../../format/later-messages.ts')]).then(([script]) => script),
);

// What the second ladder's table says and how it looks is there before a case of its content is shown.
comesAlong(async () => void (await asks.load()));

/** Holds of the second ladder that stand whatever is done next. */
export const pausing = ['stop-and-think', 'find-tip', 'still-fixed'] as const satisfies readonly HoldId[];

/** Holds that stand in a row and leave the cards usable. */
const inRow: readonly string[] = [...pausing, 'second-surgeon', 'tourniquet', 'time'];

/** Clocks are the nurse's: their row stands beside any sheet. */
const isClock = (hold: HoldId): boolean => hold === 'tourniquet' || hold === 'time';

/** Entries after which what is entered next still happened earlier: the move that is told late has not ended. */
const keepsLate: readonly EntryDraft['type'][] = ['struck', 'screw-called', 'move-started'];

/** What describes a screw as it is named stays with its name, however wrongly it was called. */
const stays: readonly EntryDraft['type'][] = ['screw-listed', 'bone-measured', 'screw-called'];

export type Panel =
  /** The open moves; `about`: a touch tells of one and starts none. */
  | { kind: 'moves'; page: number; about?: true }
  | { kind: 'outcomes'; all: boolean }
  | { kind: 'look' }
  | { kind: 'move'; move: MoveId }
  /** Which of several tools that fit the move is made with. */
  | { kind: 'tools'; move: MoveId; tools: readonly ToolId[] }
  /** What a move rests on and nobody has told. */
  | { kind: 'fact'; move: MoveId; fact: UnknownFact }
  | { kind: 'sheet'; sheet: SheetName };

export type SheetName =
  | (
      | 'more'
      | 'closed'
      | 'leave'
      | 'found'
      | 'bone'
      | 'log'
      | 'tool'
      | 'clocks'
      | 'when'
      | 'remark'
      | 'holds'
      | 'length'
      | 'forecast'
      | 'screws'
    )
  | ('wrong' | 'other' | 'stopped' | 'hand-over' | 'event' | 'correct' | 'conflict' | 'measure' | 'tip' | 'parts');

/** How a move ended, without the screw that it was made on. */
export type MoveEnd = Omit<Extract<EntryDraft, { type: 'move-ended' }>, 'type' | 'screw'>;

export type Table = ReturnType<typeof createTable>;

export function createTable(app: App) {
  const [panel, setPanel] = createSignal<Panel>({ kind: 'moves', page: 0 });
  const [pending, setPending] = createSignal<MoveId | null>(null);
  const [reversed, setReversed] = createSignal(false);
  /** The tool that the pending move is made with. */
  const [tool, setTool] = createSignal<ToolId | undefined>(undefined);
  const chosenTool = (): { tool?: ToolId } => {
    const named = tool();
    return named === undefined ? {} : { tool: named };
  };
  const [when, setWhen] = createSignal<When>({});
  const [problem, setProblem] = createSignal<string | null>(null);
  const [cameOut, setLastOut] = createSignal<string | null>(null);

  const isLate = createMemo(() => when().minutesAgo !== undefined || when().at !== undefined);
  /** While something earlier is told, the screw it is told of: it may have ended since. */
  const [toldOf, setToldOf] = createSignal<string | null>(null);
  const called = createMemo(() => (isLate() ? toldOf() : null) ?? app.view()?.called ?? null);
  const screw = createMemo((): ScrewView | null => app.view()?.screws[called() ?? ''] ?? null);
  const context = createMemo((): ScrewContext | null => app.open()?.folded.screws.get(called() ?? '')?.context ?? null);
  /** The screw that came out last, as long as that stands: it can be taken back. */
  const lastOut = createMemo(() => (app.view()?.screws[cameOut() ?? '']?.stage === 'out' ? cameOut() : null));
  const moveOf = (id: AnyMoveId): Move => moveIn(app.content(), id);
  /** Is the case played by the second ladder? */
  const isSecond = () => app.content().ladder === 2;
  const offers = createMemo(() => screw()?.offered ?? []);
  /** Numbers stay with their moves: the place in the ladder as offered. */
  const numbered = createMemo(() => offers().map((offered, i) => ({ number: numberAt(i, isSecond()), offered })));
  const moves = createMemo(() => numbered().filter(({ offered }) => offered.move !== 'leave-in'));
  const leaveNumber = createMemo(() => {
    const place = numbered().find(({ offered }) => offered.move === 'leave-in')?.number ?? null;
    return place !== null && isSecond() ? leaveKey : place;
  });
  /** All that stands in a row or would, in the order of the content. */
  const queue = createMemo((): HoldId[] => {
    const stands: readonly string[] = [...(screw()?.holds ?? []), ...(app.view()?.holds ?? [])];
    return app.content().holds.flatMap(({ id }) => (inRow.includes(id) && stands.includes(id) ? [id as HoldId] : []));
  });
  /** What gives pause comes before a look at the recess; one question at a time. */
  const pauses = () => pausing.some((hold) => hold === queue()[0]);
  const reassess = createMemo(
    () => (screw()?.holds.includes('reassess') ?? false) && !screw()?.lines?.includes('reassess') && !pauses(),
  );
  /** A look nobody is held to opens turning out once more. */
  const mayLook = createMemo(() => {
    const now = context();
    return now !== null && isWorking(now.stage) && now.running === null && !reassess() && lookReopens(now);
  });
  const pendingOffer = createMemo((): OfferedMove | null => offers().find(({ move }) => move === pending()) ?? null);
  /** Holds that still have to be answered before the pending move starts. */
  const pendingHolds = createMemo((): HoldId[] =>
    (pendingOffer()?.holds ?? []).filter((hold) => !(hold === 'reverse' && reversed())),
  );
  /**
   * Holds that stand in a row of their own and leave the cards usable; the clocks alone beside a sheet of the second ladder,
   * and while something earlier is told, which answers nothing.
   */
  const standing = createMemo((): HoldId[] =>
    isLate() || (isSecond() && (reassess() || pendingHolds().length > 0)) ? queue().filter(isClock) : queue(),
  );
  const [asking, setAsking] = createSignal(asks.loaded());
  if (!asking())
    asks.load().then(setAsking, () => {
      // Without it nothing is asked here; the closing asks the same.
    });
  /** What is asked of the move that ended last. */
  const ask = createMemo((): Ask | null => {
    const open = app.open();
    // A hold that takes the place of the cards is answered first.
    if (!open || isLate() || reassess() || pending() !== null || panel().kind === 'look') return null;
    if (app.session.takenUp()) return takenUpAsk(app);
    // While a move runs its end is what is asked.
    return (screw()?.move ?? null) === null ? (asking()?.askOf(open.folded, app.w) ?? null) : null;
  });
  /** The move that an outcome would end: the one that runs, or the one that is just being told late. */
  const running = createMemo((): RunningMove | null => {
    const now = context();
    return (isLate() ? now?.lateOpen.at(-1) : null) ?? now?.running ?? null;
  });
  /** What the row above the cards holds. */
  const row = createMemo((): HoldId | 'ask' | 'look' | null => {
    const now = ask();
    const hold = now && (app.session.takenUp() || (now.goesOn && !pauses())) ? undefined : standing()[0];
    return hold ?? (now ? 'ask' : mayLook() && !isLate() && panel().kind !== 'look' ? 'look' : null);
  });
  const home = () =>
    batch(() => {
      setPanel((now) => (now.kind === 'moves' && now.page === 0 && !now.about ? now : { kind: 'moves', page: 0 }));
      setPending(null);
      setReversed(false);
    });

  /** Shows a page of the moves; a move that a hold kept from starting is let go. */
  const turnTo = (page: number) =>
    batch(() => {
      const about = isAbout();
      home();
      setPanel({ kind: 'moves', page, ...(about && { about }) });
    });

  /** Does a touch on a move tell of it and start nothing? */
  const isAbout = (): boolean => {
    const now = panel();
    return now.kind === 'moves' && now.about === true;
  };
  const turnAbout = () => setPanel(isAbout() ? { kind: 'moves', page: 0 } : { kind: 'moves', page: 0, about: true });

  async function record(...drafts: EntryDraft[]): Promise<RecordResult> {
    setProblem(null);
    let result: RecordResult = { ok: false, reason: { code: 'nothing' } };
    for (const draft of drafts) {
      // What is struck is struck now, whenever the next event happened.
      result = await app.session.record(draft, draft.type === 'struck' ? {} : when());
      if (!result.ok) break;
    }
    if (!result.ok) setProblem(outcomeWords(app.w, result.reason, 'table.cannot'));
    else if (drafts.some(({ type }) => !keepsLate.includes(type))) now();
    return result;
  }

  /** Whatever is entered next happens now again. */
  const now = () =>
    batch(() => {
      setWhen((set) => (Object.keys(set).length ? {} : set));
      setToldOf(null);
    });

  /** Starts a move that is not among those offered, or tells one late: it is done whatever stands open. */
  async function tell(move: AnyMoveId, what?: string): Promise<void> {
    const id = called();
    if (id === null) return;
    const draft = { type: 'move-started', screw: id, move, ...(what !== undefined && { what }) } as const;
    if ((await record({ ...draft, ...toolOf(move) })).ok) home();
  }

  /** The tool that a move is made with, where only one that is here fits. */
  const toolOf = (move: AnyMoveId): { tool?: ToolId } => {
    const fitting = fittingTools(move);
    return fitting.length === 1 ? { tool: fitting[0] } : {};
  };
  const fittingTools = (move: AnyMoveId): readonly ToolId[] => {
    const facts = context()?.facts;
    const room = app.open()?.folded.case.context.room;
    return facts && room ? toolsOf(app.content(), moveOf(move), facts, room.tools) : [];
  };

  /**
   * Starts a move at once, or asks what has to be answered first.
   *
   * @param asIs nobody knows what it rests on, and it is made all the same
   */
  async function start(move: MoveId, named?: ToolId, asIs = false): Promise<void> {
    const id = called();
    if (isLate()) return tell(move);
    const offered = offers().find((other) => other.move === move);
    if (id === null || !offered) return;
    const fact = named === undefined && !asIs ? offered.unknown?.find((one) => one !== 'diameter') : undefined;
    if (fact !== undefined) return void setPanel({ kind: 'fact', move, fact });
    const fitting = fittingTools(move);
    if (named === undefined && fitting.length > 1) {
      setPanel({ kind: 'tools', move, tools: fitting });
      return;
    }
    setTool(named ?? fitting[0]);
    if (offered.holds.length) {
      setReversed(false);
      setPending(move);
      setPanel({ kind: 'moves', page: 0 });
      return;
    }
    if ((await record({ type: 'move-started', screw: id, move, ...chosenTool() })).ok) home();
  }

  /** Starts the pending move once nothing stands before it any more. */
  async function startPending(): Promise<void> {
    const [id, move] = [called(), pending()];
    if (id === null || move === null || pendingHolds().length) return;
    const reverse = reversed() ? { reverseConfirmed: true } : {};
    await record({
      type: 'move-started',
      screw: id,
      move,
      ...chosenTool(),
      ...reverse,
    });
    // Also when it failed: what failed is told, and the cards are there to start it again.
    home();
  }

  async function confirmReverse(): Promise<void> {
    setReversed(true);
    await startPending();
  }

  async function answer(
    hold: HoldId,
    reply: Answer,
    reason?: string,
    onWordOf?: string,
    more: Pick<Extract<EntryDraft, { type: 'hold-answered' }>, 'checks' | 'seen' | 'out'> = {},
  ) {
    const of = app.content().holds.find(({ id }) => id === hold)?.of;
    const id = of === 'screw' ? called() : null;
    return record({
      type: 'hold-answered',
      hold,
      answer: reply,
      ...more,
      ...(id !== null && { screw: id }),
      ...(reason !== undefined && { reason }),
      ...(onWordOf !== undefined && { onWordOf }),
    });
  }

  async function end(draft: MoveEnd): Promise<void> {
    const id = called();
    if (id === null) return;
    const start = isLate() ? context()?.lateOpen.at(-1)?.entry : undefined;
    const result = await record({
      type: 'move-ended',
      screw: id,
      ...draft,
      ...(start !== undefined && { start }),
    });
    if (!result.ok) return;
    home();
    if (draft.outcome === 'out') setLastOut(id);
  }

  /** A measured piece of the screw that came out last. The question for it stays until the answer is on disk. */
  async function measured(length: number): Promise<boolean> {
    const id = lastOut();
    if (id === null) return false;
    const { ok } = await record({ type: 'piece-recovered', screw: id, length, lengthHow: 'measured' });
    if (ok) setLastOut(null);
    return ok;
  }

  /** All of the screw that came out last is there, seen and not measured. */
  async function whole(): Promise<void> {
    const id = lastOut();
    if (id === null) return;
    const broke = (app.open()?.folded.screws.get(id)?.context.breaks.length ?? 0) > 0;
    const all = broke ? { complete: true } : { whole: true as const };
    if ((await record({ type: 'piece-recovered', screw: id, ...all })).ok) setLastOut(null);
  }

  /** The screw that was called last, one that has come out or stays by now, too; none once it was put off. */
  const inHand = () => app.open()?.folded.case.context.called ?? null;
  /** Entries on the screw in hand since it was called: what a wrong call may have put there. */
  const sinceCalled = createMemo((): number[] => {
    const [id, open] = [inHand(), app.open()];
    if (id === null || !open) return [];
    const all = effective(open);
    const from = all.findLast((entry) => entry.type === 'screw-called' && entry.screw === id)?.n ?? 0;
    return all.flatMap((entry) =>
      entry.n > from && 'screw' in entry && entry.screw === id && !stays.includes(entry.type) ? [entry.n] : [],
    );
  });

  /** What was entered since the screw was called belonged to another one. */
  async function wasOf(id: string): Promise<void> {
    const entries = sinceCalled();
    if (entries.length === 0) return;
    if (!(await record({ type: 'reassigned', entries, screw: id })).ok) return;
    // It may have come out by what was told of it.
    const stage = app.view()?.screws[id]?.stage;
    if (stage && stage !== 'out' && stage !== 'left-in') await record({ type: 'screw-called', screw: id });
    home();
  }

  /** The called screw, where it can be left for later. */
  const mayDefer = createMemo(() => {
    const id = app.view()?.called ?? null;
    return id !== null && app.view()?.screws[id]?.mayDefer ? id : null;
  });

  /** Work is stopped at once; why is asked after. */
  async function stopAll(): Promise<void> {
    if ((await record({ type: 'stopped' })).ok) setPanel({ kind: 'sheet', sheet: 'stopped' });
  }

  /** The called screw is left for later. */
  async function defer(): Promise<void> {
    const id = mayDefer();
    if (id !== null && (await record({ type: 'deferred', screw: id })).ok) home();
  }
  /** The plate is about to be lifted: what still holds it is asked first. That it is off is told by itself. */
  async function lift(part = 'plate'): Promise<void> {
    if ((await record({ type: 'part-move', part, move: 'lift' })).ok) home();
  }
  /**
   * Cards on a page: by the second ladder the fourth is to come back later, where that can be said, and where more moves
   * are open than have a place the way to the closed ones, which would be two pages off.
   */
  const cardsAtOnce = () => (isSecond() && (mayDefer() !== null || moves().length > 4) ? 3 : 4);

  /** No card stands beside which it could be said: the list of closed moves begins with it. */
  const defersInList = () => isSecond() && mayDefer() !== null && moves().length === 0;

  // What the other screen was asking goes on here.
  const taken = takeOver(app);
  if (taken && offers().some(({ move, holds }) => move === taken.move && holds.length > 0)) {
    setTool(taken.tool);
    setPending(taken.move);
  }
  /** Goes to the other screen that asks what stands before a move. */
  function turn(screen: 'table' | 'glance'): void {
    const move = pendingHolds().length > 0 ? pending() : null;
    handOver(app, move && { move, tool: tool() });
    app.go(screen);
  }

  async function call(id: string): Promise<void> {
    if (isLate()) {
      setToldOf(id);
      return home();
    }
    const hasOther = Object.keys(app.view()?.screws ?? {}).length > 1;
    if (app.view()?.called === id || (inHand() === id && hasOther && sinceCalled().length > 0)) {
      // Touched once more, the screw in hand asks whether it was another one.
      const isHome = panel().kind === 'moves' && pending() === null;
      if (isHome && sinceCalled().length > 0) return void setPanel({ kind: 'sheet', sheet: 'wrong' });
      return home();
    }
    if (!(await record({ type: 'screw-called', screw: id })).ok) return;
    setLastOut(null);
    home();
  }

  return {
    app,
    panel,
    setPanel,
    turnTo,
    isAbout,
    turnAbout,
    pending,
    setPending,
    pendingOffer,
    pendingHolds,
    when,
    setWhen,
    problem,
    setProblem,
    lastOut,
    measured,
    whole,
    ask,
    isLate,
    now,
    tell,
    running,
    sinceCalled,
    wasOf,
    mayDefer,
    defersInList,
    inHand,
    defer,
    lift,
    cardsAtOnce,
    turn,
    isSecond,
    fittingTools,
    queue,
    script: asking,
    stopAll,
    called,
    screw,
    context,
    moveOf,
    moves,
    leaveNumber,
    reassess,
    mayLook,
    pauses,
    standing,
    row,
    home,
    record,
    start,
    startPending,
    confirmReverse,
    answer,
    end,
    call,
    callColleague: () => record({ type: 'colleague-called' }),
  };
}
