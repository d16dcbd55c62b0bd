/** What the table screen knows besides the case: which panel is open, what is about to start, when the next entry was. */
import { batch, createMemo, createSignal } from 'solid-js';
import type { AnyMoveId, Answer, HoldId, MoveId } from '../../../content/ids.ts';
import { moveOf as moveIn } from '../../../content/moves.ts';
import type { Move } from '../../../content/types.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import { isWorking, lookReopens, type ScrewContext } from '../../../machines/screw.context.ts';
import type { OfferedMove, ScrewView } from '../../../machines/view.types.ts';
import type { RecordResult, When } from '../../session/session.ts';
import type { App } from '../app.ts';
import { outcomeWords } from '../failure-words.ts';

export const cardsAtOnce = 4;

export type Panel =
  | { kind: 'moves'; page: number }
  | { kind: 'outcomes'; all: boolean }
  | { kind: 'look' }
  | { kind: 'move'; move: MoveId }
  | { kind: 'sheet'; sheet: SheetName };

export type SheetName =
  'more' | 'leave' | 'found' | 'bone' | 'log' | 'tool' | 'clocks' | 'when' | 'remark' | 'holds' | 'length' | 'forecast';

/** How a move ended, without the screw that it was made on. */
export type MoveEnd = Omit<Extract<EntryDraft, { type: 'move-ended' }>, 'type' | 'screw'>;

export type Table = ReturnType<typeof createTable>;

export function createTable(app: App) {
  const [panel, setPanel] = createSignal<Panel>({ kind: 'moves', page: 0 });
  const [pending, setPending] = createSignal<MoveId | null>(null);
  const [reversed, setReversed] = createSignal(false);
  const [when, setWhen] = createSignal<When>({});
  const [problem, setProblem] = createSignal<string | null>(null);
  const [cameOut, setLastOut] = createSignal<string | null>(null);

  const called = createMemo(() => app.view()?.called ?? null);
  const screw = createMemo((): ScrewView | null => app.view()?.screws[called() ?? ''] ?? null);
  const context = createMemo((): ScrewContext | null => app.open()?.folded.screws.get(called() ?? '')?.context ?? null);
  /** The screw that came out last, as long as that stands: it can be taken back. */
  const lastOut = createMemo(() => (app.view()?.screws[cameOut() ?? '']?.stage === 'out' ? cameOut() : null));
  const moveOf = (id: AnyMoveId): Move => moveIn(app.content(), id);
  const offers = createMemo(() => screw()?.offered ?? []);
  /** Numbers stay with their moves: the place in the ladder as offered. */
  const numbered = createMemo(() => offers().map((offered, i) => ({ number: i + 1, offered })));
  const moves = createMemo(() => numbered().filter(({ offered }) => offered.move !== 'leave-in'));
  const leaveNumber = createMemo(() => numbered().find(({ offered }) => offered.move === 'leave-in')?.number ?? null);
  const reassess = createMemo(() => screw()?.holds.includes('reassess') ?? false);
  /** A look nobody is held to opens turning out once more. */
  const mayLook = createMemo(() => {
    const now = context();
    return now !== null && isWorking(now.stage) && now.running === null && !reassess() && lookReopens(now);
  });
  /** Holds that stand in a row of their own and leave the cards usable. */
  const standing = createMemo((): HoldId[] => [
    ...(screw()?.holds.includes('second-surgeon') ? ['second-surgeon' as const] : []),
    ...(app.view()?.holds ?? []).filter((hold) => hold === 'tourniquet' || hold === 'time'),
  ]);
  /** What the row above the cards holds. */
  const row = createMemo((): HoldId | 'look' | null => {
    const hold = standing()[0];
    return hold ?? (mayLook() && panel().kind !== 'look' ? 'look' : null);
  });
  const pendingOffer = createMemo((): OfferedMove | null => offers().find(({ move }) => move === pending()) ?? null);
  /** Holds that still have to be answered before the pending move starts. */
  const pendingHolds = createMemo((): HoldId[] =>
    (pendingOffer()?.holds ?? []).filter((hold) => !(hold === 'reverse' && reversed())),
  );

  const home = () =>
    batch(() => {
      setPanel((now) => (now.kind === 'moves' && now.page === 0 ? now : { kind: 'moves', page: 0 }));
      setPending(null);
      setReversed(false);
    });

  async function record(...drafts: EntryDraft[]): Promise<RecordResult> {
    setProblem(null);
    let result: RecordResult = { ok: false, reason: { code: 'nothing' } };
    for (const draft of drafts) {
      // What is struck is struck now, whenever the next event happened.
      result = await app.session.record(draft, draft.type === 'struck' ? {} : when());
      if (!result.ok) break;
    }
    if (!result.ok) setProblem(outcomeWords(app.w, result.reason, 'table.cannot'));
    else if (drafts.some(({ type }) => type !== 'struck')) setWhen((set) => (Object.keys(set).length ? {} : set));
    return result;
  }

  /** Starts a move at once, or asks what has to be answered first. */
  async function start(move: MoveId): Promise<void> {
    const id = called();
    const offered = offers().find((other) => other.move === move);
    if (id === null || !offered) return;
    if (offered.holds.length) {
      setReversed(false);
      setPending(move);
      setPanel({ kind: 'moves', page: 0 });
      return;
    }
    if ((await record({ type: 'move-started', screw: id, move })).ok) home();
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
      ...reverse,
    });
    // Also when it failed: what failed is told, and the cards are there to start it again.
    home();
  }

  async function confirmReverse(): Promise<void> {
    setReversed(true);
    await startPending();
  }

  async function answer(hold: HoldId, reply: Answer, reason?: string) {
    const of = app.content().holds.find(({ id }) => id === hold)?.of;
    const id = of === 'screw' ? called() : null;
    return record({
      type: 'hold-answered',
      hold,
      answer: reply,
      ...(id !== null && { screw: id }),
      ...(reason !== undefined && { reason }),
    });
  }

  async function end(draft: MoveEnd): Promise<void> {
    const id = called();
    if (id === null) return;
    const result = await record({
      type: 'move-ended',
      screw: id,
      ...draft,
    });
    if (!result.ok) return;
    home();
    if (draft.outcome === 'out') setLastOut(id);
  }

  /** A measured piece of the screw that came out last. The question for it stays until the answer is on disk. */
  async function measured(length: number): Promise<boolean> {
    const id = lastOut();
    if (id === null) return false;
    const { ok } = await record({ type: 'piece-recovered', screw: id, length });
    if (ok) setLastOut(null);
    return ok;
  }

  async function call(id: string): Promise<void> {
    if (app.view()?.called === id) return home();
    if (!(await record({ type: 'screw-called', screw: id })).ok) return;
    setLastOut(null);
    home();
  }

  return {
    app,
    panel,
    setPanel,
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
    called,
    screw,
    context,
    moveOf,
    moves,
    leaveNumber,
    reassess,
    mayLook,
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
