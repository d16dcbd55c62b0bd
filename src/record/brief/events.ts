/** Deeds besides the moves on screws: plate and parts, pieces, what was let stay, stops, and what was corrected. */
import { boneName } from '../../../content/names.ts';
import type { Entry, EntryOf } from '../../../machines/entry.ts';
import { rowsOf } from '../../../machines/trace.ts';
import type { RecordLog } from '../log.ts';
import type { PartFate } from '../part-fate.ts';
import type { ScrewFate } from '../model.ts';
import type { Before } from './before.ts';
import type { Deed, DeedKind } from './deed.ts';

type More = Partial<Pick<Deed, 'thing' | 'text' | 'how' | 'subjects' | 'key' | 'tool'>>;

function deed(log: RecordLog, entry: Entry, kind: DeedKind, weight: number, more: More = {}): Deed {
  const at = log.at(entry);
  const screw = 'screw' in entry && typeof entry.screw === 'string' ? entry.screw : null;
  const subjects = screw === null ? [{ id: '', times: [at] }] : [{ id: screw, times: [at] }];
  const { thing = '', text = '' } = more;
  return { kind, at, weight, from: [entry.n], subjects, ways: [], key: `${kind} ${thing} ${text}`, ...more };
}

const withText = (log: RecordLog, text: string | undefined): More =>
  text === undefined || text.trim() === '' ? {} : { text: log.locale.clean(text) };

/** What it was until an entry corrected it. */
function corrections(log: RecordLog, field: 'side' | 'bone'): Deed[] {
  const words = (value: string) =>
    field === 'side'
      ? log.locale.sides[value as keyof typeof log.locale.sides]
      : boneName(log.content, log.locale.clean(value));
  let was = log.of('case-opened')[0]?.[field];
  return log.of('case-corrected').flatMap((entry) => {
    const now = entry[field];
    if (now === undefined || was === undefined || now === was) return [];
    const how = { was: words(was), now: words(now) };
    was = now;
    return [deed(log, entry, `${field}-corrected`, 100, { how, key: `${field}-corrected ${entry.n}` })];
  });
}

/** Stops of the work, each with the reason that was said last of it. */
function stops(log: RecordLog): Deed[] {
  const all: Deed[] = [];
  let open: Deed | null = null;
  for (const { heard, late, entry } of rowsOf(log.folded.trace)) {
    if (!heard) continue;
    if (entry.type === 'move-started' && !late) open = null;
    if (entry.type !== 'stopped') continue;
    const said = entry.reason === undefined ? null : log.locale.entries.stops[entry.reason];
    if (open) {
      // A second word adds its reason to the stop that stood.
      const added: Deed = { ...open, from: [...open.from, entry.n], ...withText(log, entry.text) };
      all[all.indexOf(open)] = open = said === null ? added : { ...added, how: { stop: said } };
    } else all.push((open = deed(log, entry, 'stopped', 100, { how: { stop: said }, ...withText(log, entry.text) })));
  }
  return all.map((one) => ({ ...one, key: `stopped ${one.from[0]}` }));
}

/** What weighs how much of what happened besides; the rest is for the timeline alone. */
const eventWeights: Partial<Record<EntryOf<'event'>['kind'], number>> = {
  'bone-broke': 100,
  'not-healed': 96,
  'infection-found': 96,
  bleeding: 78,
  'piece-dropped': 62,
  'incision-extended': 50,
  'samples-sent': 50,
  other: 45,
};

/** A tool as a sentence names it. */
const toolNamed = (log: RecordLog, tool: EntryOf<'left-in'>['tool']): string =>
  tool === undefined ? log.locale.brief.someTool : log.locale.brief.tool(log.content, tool);

/** The deed of one entry; none where the timeline alone tells of it. */
function ofEntry(log: RecordLog, entry: Entry): Deed[] {
  const { brief } = log.locale;
  const one = (...told: [DeedKind, number, More?]) => [deed(log, entry, ...told)];
  switch (entry.type) {
    case 'plate-off':
      return one('plate-off', 55, { thing: brief.part(entry.part ?? 'plate') });
    case 'part-move':
      return one('part-move', entry.outcome === 'tool-broke' || entry.outcome === 'bone-broke' ? 95 : 35, {
        thing: brief.part(entry.part),
        how: { part: entry.move, outcome: entry.outcome ?? null },
        key: `part-move ${entry.part} ${entry.move} ${entry.outcome}`,
      });
    case 'part-ended':
      if (log.isAfterClosing(entry.n)) return one('told-after', 90, { thing: brief.part(entry.part) });
      if (entry.end === 'left-in')
        return one('part-left', 98, { thing: brief.part(entry.part), ...withText(log, entry.reason) });
      if (entry.end === 'not-found') return one('part-not-found', 98, { thing: brief.part(entry.part) });
      return [];
    case 'put-in':
      return one('put-in', 97, { thing: log.locale.clean(entry.kind), subjects: [{ id: '', times: [log.at(entry)] }] });
    case 'left-in':
      if (log.isAfterClosing(entry.n)) return [];
      return entry.screw === undefined
        ? one('tip-left', 98, { thing: toolNamed(log, entry.tool), ...withText(log, entry.reason) })
        : one('left-in', 99, withText(log, entry.reason));
    case 'piece-recovered': {
      if (log.isAfterClosing(entry.n)) return [];
      const isAll = entry.whole === true || entry.complete === true;
      if (entry.screw === undefined) return one('tip-piece', 62, { thing: toolNamed(log, entry.tool) });
      return isAll ? one('all-of-it', 82) : one('piece', 63);
    }
    case 'destroyed':
      return one('destroyed', 64, {
        how: { destroyed: entry.what, by: entry.how },
        key: `destroyed ${entry.what} ${entry.how}`,
      });
    case 'tool-damaged':
      return one('tool-damaged', 74, {
        thing: toolNamed(log, entry.tool),
        how: { tipMissing: entry.tipMissing },
        tool: entry.tool,
        key: `tool-damaged ${entry.tool} ${entry.tipMissing}`,
      });
    case 'event': {
      const weight = eventWeights[entry.kind];
      return weight === undefined
        ? []
        : one('event', weight, {
            how: { event: entry.kind },
            ...withText(log, entry.text),
            key: `event ${entry.kind} ${entry.text ?? ''}`,
          });
    }
    case 'deferred':
      return one('put-off', 20);
    case 'colleague-called':
      return one('colleague', 42, withText(log, entry.who));
    default:
      return [];
  }
}

/** What was told of screws once the case was closed. */
const afterClosing = (log: RecordLog, screws: readonly ScrewFate[]): Deed[] =>
  screws.flatMap(({ id, foundAfter }) => {
    const entry = foundAfter && log.entries[foundAfter.n - 1];
    if (!foundAfter || !entry) return [];
    const kind = foundAfter.what === 'out' ? 'found-out-after' : 'said-to-stay-after';
    return [deed(log, entry, kind, 99, { subjects: [{ id, times: [log.at(entry)] }] })];
  });

/** What made a screw be out: the last entry about it that it was still in at. */
function madeOut(log: RecordLog, { id, attempts }: ScrewFate): number[] {
  const last = attempts.findLast(({ outcome }) => outcome === 'out');
  const rows = rowsOf(log.folded.trace).filter(
    ({ entry, heard, stageBefore }) =>
      heard && 'screw' in entry && entry.screw === id && stageBefore !== null && stageBefore !== 'out',
  );
  const made = rows.at(-1)?.entry.n;
  const own = last ? [last.n, ...(last.endedBy === null ? [] : [last.endedBy])] : [];
  return own.length ? own : made === undefined ? [] : [made];
}

/** A part of which all was told to be out while the case was open. */
const isOut = ({ end, closes, after, byStop }: PartFate): boolean =>
  end === 'out' && closes !== 'open' && after === null && !byStop;

/** How much of the metal is out; none where nothing is, or where its own sentence says as much. */
function summary(log: RecordLog, { screws, parts }: Before): Deed[] {
  const out = screws.filter(({ stage }) => stage === 'out');
  const whole = parts.filter(isOut);
  const ended = whole.flatMap(({ id }) => {
    const told = log.of('part-ended').flatMap((entry) => (entry.part === id && entry.end === 'out' ? [entry.n] : []));
    // Format 1 said no more of a plate than that it was taken off.
    return told.length ? told : log.of('plate-off').flatMap(({ n, part }) => ((part ?? 'plate') === id ? [n] : []));
  });
  const from = [...out.flatMap((fate) => madeOut(log, fate)), ...ended];
  if (!from.length || (out.length <= 1 && screws.length <= 1 && !whole.length)) return [];
  const how = { out: out.length, of: screws.length, parts: whole.map(({ id }) => log.locale.brief.part(id)) };
  return [
    { kind: 'summary', at: -Infinity, weight: 101, from, subjects: [], ways: [], how, key: 'summary' } satisfies Deed,
  ];
}

/** All deeds besides the moves on screws; the summary first. */
export const otherDeeds = (log: RecordLog, facts: Before): Deed[] => [
  ...summary(log, facts),
  ...corrections(log, 'side'),
  ...corrections(log, 'bone'),
  ...stops(log),
  ...afterClosing(log, facts.screws),
  ...log.effective.flatMap((entry) => ofEntry(log, entry)),
];
