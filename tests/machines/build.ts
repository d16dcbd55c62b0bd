/** Logs written as sentences of the trade, for the tests. Invented cases only. */
import { loadContent } from '../../content/catalog.ts';
import { currentVersion } from '../../content/releases/index.ts';
import { toolIds, type HoldId, type MoveId, type Outcome, type ToolId } from '../ids.ts';
import type { Content } from '../../content/types.ts';
import type { EntryDraft, Entry, EntryOf } from '../../machines/entry.ts';
import { fold, ruleVersions, step, unfolded } from '../../machines/fold.ts';
import type { Folded } from '../../machines/folded.ts';
import { epoch } from '../../machines/time.ts';
import { view } from '../../machines/view.ts';
import type { CaseView, ScrewView } from '../../machines/view.types.ts';

const present = loadContent(currentVersion) as Content;
export { present as content };

type More<T extends Entry['type']> = Partial<Omit<EntryOf<T>, 'n' | 'type' | 'seal'>>;
/** `at` when it happened, `logged` when it was entered; left out, both are the log's own next half minute. */
type When = { at?: string; logged?: string };

/** A log that numbers its entries and lets half a minute pass before each. */
export class Log {
  readonly entries: Entry[] = [];
  #now: number;
  #known: { n: number; state: Folded };

  constructor(
    start = '2026-03-04T08:00:00Z',
    readonly content: Content = present,
  ) {
    this.#now = epoch(start);
    this.#known = { n: 0, state: unfolded(this.content) };
  }

  write(draft: EntryDraft & When): this {
    const logged = draft.logged ?? draft.at ?? new Date((this.#now += 30_000)).toISOString();
    this.#now = Math.max(this.#now, epoch(logged));
    this.entries.push({ n: this.entries.length + 1, at: draft.at ?? logged, logged, ...draft });
    return this;
  }

  /** Lets minutes pass before the next entry. */
  after(minutes: number): this {
    this.#now += minutes * 60_000 - 30_000;
    return this;
  }

  opened(more: More<'case-opened'> = {}): this {
    const plain = { label: 'Room 4, first case', zone: 'Europe/Oslo', side: 'left', bone: 'tibia' } as const;
    return this.write({ type: 'case-opened', ...plain, construct: 'plate', planned: 'Plate and screws out', ...more });
  }

  bone(outer: number, cortex: number, more: More<'bone-measured'> = {}): this {
    return this.write({ type: 'bone-measured', outer, cortex, source: 'measured', ...more });
  }

  screw(screw: string, more: More<'screw-listed'> = {}): this {
    const size = { diameter: 4.5, thread: 'cortical', locking: false, drive: 'hexagonal' } as const;
    const rest = { material: 'steel', length: 36, cortices: 2 } as const;
    return this.write({ type: 'screw-listed', screw, ...size, ...rest, ...more });
  }

  tool(tool: ToolId, more: More<'tool-in-room'> = {}): this {
    return this.write({ type: 'tool-in-room', tool, present: true, ...more });
  }

  room(...tools: ToolId[]): this {
    for (const tool of tools) this.tool(tool);
    return this;
  }

  start(when: When = {}): this {
    return this.write({ type: 'work-started', ...when });
  }

  call(screw: string): this {
    return this.write({ type: 'screw-called', screw });
  }

  begins(screw: string, move: MoveId, more: More<'move-started'> = {}): this {
    return this.write({ type: 'move-started', screw, move, ...more });
  }

  ends(screw: string, outcome: Outcome, more: More<'move-ended'> = {}): this {
    const reachable = outcome === 'shank-broke' ? { reachable: true } : {};
    return this.write({ type: 'move-ended', screw, outcome, ...reachable, ...more });
  }

  tries(screw: string, move: MoveId, outcome: Outcome, more: More<'move-ended'> = {}): this {
    return this.begins(screw, move).ends(screw, outcome, more);
  }

  looksAgain(screw: string, checks: EntryOf<'reassessed'>['checks'] = {}): this {
    return this.write({ type: 'reassessed', screw, checks });
  }

  answers(hold: HoldId, more: More<'hold-answered'> = {}): this {
    return this.write({ type: 'hold-answered', hold, answer: 'go-on', ...more });
  }

  finds(screw: string, more: More<'found'>): this {
    return this.write({ type: 'found', screw, ...more });
  }

  leaves(screw: string, more: More<'left-in'> = {}): this {
    return this.write({ type: 'left-in', screw, length: null, where: 'far cortex', reason: 'more bone lost', ...more });
  }

  strikes(entry: number): this {
    return this.write({ type: 'struck', entry, reason: 'entered by mistake' });
  }

  remarks(text = 'nothing to add', when: When = {}): this {
    return this.write({ type: 'remark', text, ...when });
  }

  /** Number of the last entry. */
  get n(): number {
    return this.entries.length;
  }

  /** Folded on from where it was last asked for; that this equals a fold of the whole is proved elsewhere. */
  get folded(): Folded {
    const { n, state } = this.#known;
    const ahead = this.entries.slice(n);
    const now = ahead.some(({ type }) => type === 'struck')
      ? fold(this.entries, this.content)
      : ahead.reduce((before, entry) => step(before, entry, this.entries), state);
    this.#known = { n: this.entries.length, state: now };
    return now;
  }

  /** A log of its own that begins with the same entries. */
  fork(): Log {
    const log = new Log(undefined, this.content);
    log.entries.push(...this.entries);
    log.#now = this.#now;
    log.#known = { n: this.entries.length, state: this.folded };
    return log;
  }

  get view(): CaseView {
    return view(this.folded);
  }

  of(screw: string): ScrewView {
    const found = this.view.screws[screw];
    if (!found) throw new Error(`no screw ${screw} is listed`);
    return found;
  }
}

/** The state that a log had by older rules. */
export const byRules = (number: number, log: Log): CaseView =>
  view(fold(log.entries, log.content, ruleVersions.of(number)));

const rooms = new Map<string, Log>();

/** An opened tibia of 27/5 mm with one plain screw "1" and every tool in the room. */
export function inTheRoom(facts: More<'screw-listed'> = {}, opened: More<'case-opened'> = {}): Log {
  const key = JSON.stringify([facts, opened]);
  const room =
    rooms.get(key) ??
    new Log()
      .opened(opened)
      .bone(27, 5)
      .screw('1', facts)
      .room(...toolIds);
  rooms.set(key, room);
  return room.fork();
}

/** The same with the work begun. */
export const atTheTable = (facts: More<'screw-listed'> = {}, opened: More<'case-opened'> = {}): Log =>
  inTheRoom(facts, opened).start();

export const offered = (screw: ScrewView): MoveId[] => screw.offered.map(({ move }) => move);

/** Why each closed move of the stage is closed. */
export const closed = (screw: ScrewView) => Object.fromEntries(screw.withdrawn.map(({ move, why }) => [move, why]));

export const offer = (screw: ScrewView, move: MoveId) => screw.offered.find((one) => one.move === move);
