/**
 * What happened to the instruments, for sterile services and restock: instrument, size, what happened, what to do. Only
 * what an entry says is in it; a tool that nobody asked for is not missing.
 */
import type { ToolId } from '../../../content/ids.ts';
import { moveOfAny } from '../../../content/names.ts';
import { mainGroup } from '../../../machines/compute/fit.ts';
import type { EntryOf } from '../../../machines/entry.ts';
import { capital, some } from '../../format/prose.ts';
import type { History } from '../history.ts';
import type { RecordLog } from '../log.ts';
import type { Attempt } from '../model.ts';
import { freesPlate, wears } from '../tool-wear.ts';
import { toolTasks, type ToolRow, type ToolTask } from './shapes.ts';

/** What frees a plate by cutting metal. Common practice, no source. */
const cutsPlate: readonly ToolId[] = ['metal-cutting-saw', 'metal-cutting-burr', 'bolt-cutter'];

/** What is usually done with a tool after such a move. Common practice, no source. */
const usual: Partial<Record<ToolId, readonly ToolTask[]>> = {
  'metal-foil': ['replace'],
  'hard-metal-drill': ['sharpen', 'look-at'],
  'reverse-tap': ['sharpen', 'look-at'],
  'hollow-reamer': ['sharpen', 'look-at'],
};

/** Used up by its move, whoever brought it: the account of the metal lists it by the move. */
const isSaid: readonly string[] = ['metal-foil'];

/** An instrument, or one of which nobody said which it was: then what it was used for. */
type Key = ToolId | 'driver' | `move ${string}`;

interface Noted {
  key: Key;
  /** Sort of thing that happened, so that the same on several screws is one line. */
  line: string;
  screw: string | null;
  tasks: readonly ToolTask[];
}

/** Was this tool, of any size, in the room at some time? */
const wasThere = (log: RecordLog, tool: ToolId): boolean =>
  log.of('tool-in-room').some((entry) => entry.tool === tool && entry.present);

function keyOf({ content }: RecordLog, { tool, move }: Attempt): Key {
  if (tool !== undefined) return tool;
  const row = moveOfAny(content, move);
  const main = row && mainGroup(row);
  return main && 'driver' in main ? 'driver' : `move ${move}`;
}

function noteOf(log: RecordLog, { tool, length, lengthHow, how, tipMissing, kept }: EntryOf<'tool-damaged'>): Noted {
  const { tools } = log.locale.papers;
  const parts = some(
    log.locale.clean(how),
    tipMissing && tools.tipMissing(length ?? null, lengthHow),
    kept && tools.kept,
  );
  return { key: tool, line: parts.join(', '), screw: null, tasks: ['replace'] };
}

/** What an attempt did to its tool; what cut metal is there besides. */
function ofAttempt(log: RecordLog, attempt: Attempt, isTold: boolean): Noted[] {
  const { tools } = log.locale.papers;
  const { screw, move, tool, outcome, endedBy } = attempt;
  const end = endedBy === null ? undefined : log.entries[endedBy - 1];
  const isJammed = outcome === 'tool-jammed' || (end?.type === 'move-ended' && end.toolJammed === true);
  const at = (line: string, tasks: readonly ToolTask[]): Noted => ({ key: keyOf(log, attempt), line, screw, tasks });
  const cut: readonly Key[] =
    move !== freesPlate
      ? (wears[move] ?? [])
      : // One of several may have done it: where nobody said which, none is named.
        [tool !== undefined && cutsPlate.includes(tool) ? tool : keyOf(log, attempt)];
  return [
    ...(outcome === 'slipped' ? [at(tools.slipped, ['look-at'])] : []),
    ...(outcome === 'tool-broke' && !isTold ? [at(tools.broke, ['replace'])] : []),
    ...(isJammed ? [at(outcome === 'out' ? tools.outJammed : tools.jammed, ['part'])] : []),
    ...cut
      // What nobody brought into the room and nobody named was not noted.
      .filter((key) => key === tool || isSaid.includes(key) || key.startsWith('move ') || wasThere(log, key as ToolId))
      .map((key) => ({
        key,
        line: key === 'metal-foil' ? tools.usedUp : tools.cutMetal,
        screw,
        tasks: usual[key as ToolId] ?? (['look-at'] as const),
      })),
  ];
}

/** Breakages that a description of the damage tells of again: the newest before it, of that tool or of one not named. */
function toldAgain(log: RecordLog, attempts: readonly Attempt[]): ReadonlySet<Attempt> {
  const told = new Set<Attempt>();
  for (const { n, tool } of log.effective.filter((entry) => entry.type === 'tool-damaged')) {
    const open = attempts.filter(
      (one) => one.outcome === 'tool-broke' && one.endedBy !== null && one.endedBy < n && !told.has(one),
    );
    const same = open.findLast((one) => one.tool === tool) ?? open.findLast((one) => one.tool === undefined);
    if (same) told.add(same);
  }
  return told;
}

/** Of the tips that broke off: whether all of each is accounted for. */
const tipNotes = (log: RecordLog): Noted[] =>
  log.view.toolTips.map(({ tool, closes, entry }) => ({
    key: tool,
    line: log.locale.papers.tools.tip(entry, closes !== null && closes !== 'open'),
    screw: null,
    tasks: ['replace'],
  }));

/** What was said to be gone once the work had begun: before that, a tool taken off the list was put there in error. */
function goneNotes(log: RecordLog): Noted[] {
  const begun = log.of('work-started')[0]?.n ?? Infinity;
  const gone = log.of('tool-in-room').filter(({ n, present }) => !present && n > begun);
  return gone
    .filter(
      ({ n, tool }) => !log.effective.some((e) => e.type === 'tool-in-room' && e.tool === tool && e.present && e.n > n),
    )
    .map(({ tool }) => ({ key: tool, line: log.locale.papers.tools.gone, screw: null, tasks: ['look-at'] }));
}

/** The sizes in which a tool stood in the room; which of several it was, nobody said. */
function sizeOf(log: RecordLog, key: Key): string {
  const { tools } = log.locale.papers;
  const { notRecorded, or } = log.locale;
  const measures = log.of('tool-in-room').flatMap((entry) => {
    const words = entry.tool === key && entry.present ? log.locale.entries.measures(entry) : [];
    return words.length ? [words.join(', ')] : [];
  });
  const sizes = [...new Set(measures)];
  if (sizes.length === 0) return notRecorded;
  return sizes.length === 1 ? (sizes[0] as string) : tools.oneOf(or(sizes));
}

function nameOf(log: RecordLog, key: Key): string {
  if (key === 'driver') return log.locale.papers.tools.someDriver;
  if (!key.startsWith('move ')) return capital(log.locale.tool(log.content, key as ToolId));
  const move = key.slice('move '.length) as keyof typeof log.content.phrases.moves;
  return log.locale.papers.tools.unnamed(log.content.phrases.moves[move].label);
}

/** Things noted of one instrument, the same on several screws in one line. */
function rowOf(log: RecordLog, key: Key, noted: readonly Noted[]): ToolRow {
  const { tally, screw: named } = log.locale;
  const lines = [...new Set(noted.map(({ line }) => line))].map((line) => {
    const on = noted.filter((one) => one.line === line).flatMap(({ screw }) => (screw === null ? [] : [named(screw)]));
    return on.length ? `${line}: ${tally(on).join(', ')}` : line;
  });
  const tasks = toolTasks.filter((task) => noted.some((one) => one.tasks.includes(task)));
  return {
    name: nameOf(log, key),
    size: sizeOf(log, key),
    happened: lines,
    // What is replaced is neither sharpened nor looked at.
    tasks: tasks.includes('replace') ? tasks.filter((task) => task === 'replace' || task === 'part') : tasks,
  };
}

/**
 * A row for each instrument of which something was noted, in the order in which it first was.
 *
 * @returns empty where nothing was noted
 */
export function toolRows(log: RecordLog, { attempts }: History): ToolRow[] {
  const told = toldAgain(log, attempts);
  const noted = [
    ...attempts.flatMap((attempt) => ofAttempt(log, attempt, told.has(attempt))),
    ...log.of('tool-damaged').map((entry) => noteOf(log, entry)),
    ...tipNotes(log),
    ...goneNotes(log),
  ];
  const keys = [...new Set(noted.map(({ key }) => key))];
  return keys.map((key) =>
    rowOf(
      log,
      key,
      noted.filter((one) => one.key === key),
    ),
  );
}
