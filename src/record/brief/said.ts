/** What was done, in at most ten sentences of at most 25 words: alike deeds together, then the least left to the timeline. */
import { inZone } from '../../../machines/time.ts';
import type { RecordLog } from '../log.ts';
import { offsetAt } from '../log.ts';
import { sentence } from '../../format/prose.ts';
import { screwDeeds } from './attempts.ts';
import type { Before } from './before.ts';
import type { Deed, Said, Subject } from './deed.ts';
import { otherDeeds } from './events.ts';

/** Sentences on the first page, and words in each, at most. */
export const mostSentences = 10;
export const mostWords = 25;

/** Words of a sentence, as they are counted: what stands between blanks. `wordsOf('Screw 3 came out.')` is 4. */
export const wordsOf = (text: string): number => text.split(/\s+/).filter(Boolean).length;

const rising = (numbers: readonly number[]): number[] => [...new Set(numbers)].sort((a, b) => a - b);

/** The same screw once, with all of its times. */
function together(subjects: readonly Subject[]): Subject[] {
  const times = new Map<string, number[]>();
  for (const { id, times: more } of subjects) times.set(id, [...(times.get(id) ?? []), ...more]);
  return [...times].map(([id, all]) => ({ id, times: rising(all) }));
}

function joined(deeds: readonly Deed[]): Deed {
  const [first] = deeds as [Deed, ...Deed[]];
  const ways = new Map(deeds.flatMap((deed) => deed.ways).map((way) => [`${way.move} ${way.what ?? ''}`, way]));
  return {
    ...first,
    from: rising(deeds.flatMap(({ from }) => from)),
    subjects: together(deeds.flatMap(({ subjects }) => subjects)),
    ways: [...ways.values()],
    // Several tools have no name in common.
    ...(deeds.some(({ thing }) => thing !== first.thing) && { thing: '' }),
    ...(first.kind === 'told-after' && { count: deeds.length }),
  };
}

/** Those of the same key as one, in the place of the first. */
function grouped(deeds: readonly Deed[], key: (deed: Deed) => string): Deed[] {
  const groups = new Map<string, Deed[]>();
  for (const deed of deeds) {
    const name = key(deed);
    groups.set(name, [...(groups.get(name) ?? []), deed]);
  }
  return [...groups.values()].map(joined);
}

/** What was said of the damage to a tool that broke in a move stands in the sentence on its breaking. */
function withDamage(deeds: readonly Deed[]): Deed[] {
  const broke = deeds.filter(({ kind }) => kind === 'tool-broke');
  const told = new Map<Deed, Deed>();
  const rest = deeds.filter((damage) => {
    if (damage.kind !== 'tool-damaged') return true;
    const one = broke.findLast(
      (deed) => deed.at <= damage.at && !told.has(deed) && (deed.tool === undefined || deed.tool === damage.tool),
    );
    if (!one) return true;
    const key = `${one.key} ${damage.key}`;
    told.set(one, { ...one, key, from: [...one.from, ...damage.from], ...(damage.how && { how: damage.how }) });
    return false;
  });
  return rest.map((deed) => told.get(deed) ?? deed);
}

/** Kinds of which all may stand in one sentence when there is too much to tell, whatever the screw or the move. */
const mergeable: readonly Deed['kind'][] = [
  'slipped',
  'no-change',
  'turns-free',
  'moved',
  'readied',
  'end-not-told',
  'interrupted',
];

/** At most ten: first alike kinds put together, then what weighs least left to the timeline, with how much that is. */
function chosen(deeds: readonly Deed[]): Deed[] {
  if (deeds.length <= mostSentences) return [...deeds];
  const fewer = grouped(deeds, ({ kind, key }) => (mergeable.includes(kind) ? kind : key));
  if (fewer.length <= mostSentences) return fewer;
  const byWeight = [...fewer].sort((a, b) => b.weight - a.weight);
  const kept = new Set(byWeight.slice(0, mostSentences - 1));
  const rest = fewer.filter((deed) => !kept.has(deed));
  const told = rising(rest.flatMap(({ from }) => from));
  const further: Deed = {
    ...{ kind: 'further', at: Infinity, weight: 0, from: told, subjects: [], ways: [], key: 'further' },
    count: told.length,
  };
  return [...fewer.filter((deed) => kept.has(deed)), further];
}

/** Milliseconds of a day. */
const aDay = 86_400_000;

/** A time as a sentence gives it: hours and minutes; the day where it is another one, the offset where that changed. */
function clockOf(log: RecordLog, { started }: Before): (ms: number) => string {
  const start = started ?? (log.entries[0] ? log.at(log.entries[0]) : 0);
  const usual = offsetAt(start, log.zone);
  return (ms) => {
    const { date, time } = inZone(ms, log.zone);
    const isNear = date === log.date || (ms >= start && ms < start + aDay);
    const offset = offsetAt(ms, log.zone);
    return [...(isNear ? [] : [log.locale.day(date)]), time.slice(0, 5), ...(offset === usual ? [] : [offset])].join(
      ' ',
    );
  };
}

/** How much is told: with the time of each screw, with a span, with the number of screws alone; with free text or without. */
const levels = [0, 1, 2, 3].flatMap((detail) => [
  { detail, text: true },
  { detail, text: false },
]);

/** The sentence of a deed, with as much of it as there is room for. */
function worded(log: RecordLog, deed: Deed, clock: (ms: number) => string): string {
  const { brief, clean } = log.locale;
  // Every screw at its minute; one that happened to several at one minute is not told twice.
  const times = (ms: readonly number[]) => [...new Set(ms.map(clock))];
  const all = rising(deed.subjects.flatMap((subject) => subject.times));
  for (const { detail, text } of levels) {
    const told = sentence(
      brief.tell(deed.kind, {
        detail,
        ids: deed.subjects
          .filter(({ id }) => id !== '')
          .map(({ id, times: ms }) => ({ id: clean(id), times: times(ms) })),
        times: times(all),
        ways: deed.ways.map((way) => brief.by(log.content, way)),
        thing: deed.thing ?? '',
        text: text && deed.text !== undefined ? deed.text.replace(/[.!?…]+$/, '') : null,
        how: deed.how ?? null,
        count: deed.count ?? deed.from.length,
      }),
    );
    if (wordsOf(told) <= mostWords) return told;
  }
  // Ids and names may be as long as they like: the count of entries always fits.
  return sentence(brief.further(deed.from.length));
}

/**
 * What was done, sentence by sentence, each with the entries that say it.
 *
 * @param facts screws, parts and people of the record
 * @returns in order of time, the sum of it first; none where nothing was done
 * @example saidOf(log, facts)[0] // { kind: 'summary', text: 'Two of two screws …', from: [9, 10, 12, 13] }
 */
export function saidOf(log: RecordLog, facts: Before): Said[] {
  const deeds = [...screwDeeds(log, facts.screws), ...otherDeeds(log, facts)].sort((a, b) => a.at - b.at);
  const clock = clockOf(log, facts);
  return chosen(grouped(withDamage(deeds), ({ key }) => key)).map((deed) => ({
    kind: deed.kind,
    text: worded(log, deed, clock),
    from: rising(deed.from),
  }));
}
