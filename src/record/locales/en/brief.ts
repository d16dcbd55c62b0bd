/** The sentences of the first page in English: past tense, one verb of doing each, without a capital or a full stop. */
import type { AnyMoveId, MoveId, ToolId } from '../../../../content/ids.ts';
import { inSentence } from '../../../../content/names.ts';
import type { Content } from '../../../../content/types.ts';
import type { EntryOf } from '../../../../machines/entry.ts';
import { ranges, semicolons } from '../../../format/prose.ts';
import type { DeedKind, Way } from '../../brief/deed.ts';
import { howOf, isTipMissing, isUnaccounted, type Tellers, type Told } from '../../brief/words.ts';
import type { Running } from '../telling.ts';
import { and, or, screw, tool as label } from './base.ts';
import { partName, toolOf as held } from './entries.ts';
import { events } from './entries-2.ts';

/** By what it was done or tried. No verb stands in these. */
const ways: Record<MoveId, string> = {
  'turn-out': 'with the matched driver',
  'reseat-driver': 'with the driver reseated',
  'pack-recess': 'with foil in the recess',
  'drive-oversize': 'with a tight driver hammered in',
  'grip-head': 'with a grip on the head',
  'conical-extractor': 'with the conical extractor',
  'reverse-tap': 'with the {tap}',
  'free-plate': 'together with the plate',
  'slot-head': 'by a slot or flats in the head',
  'drill-head-off': 'with the drill in the head',
  'grip-shank': 'with a grip on the shank',
  'gouge-and-grip': 'with gouge and grip',
  'far-side': 'from the far side',
  'push-through': 'through the far side',
  'hollow-ream': 'with the hollow reamer',
  'extraction-sleeve': 'with the extraction sleeve',
  'burr-out': 'with the burr',
  uncover: 'with the head cleared',
  'break-loose': 'by rapping and rocking',
  'lift-and-turn': 'by pull and turn',
  'open-near-cortex': 'with the near cortex opened',
  window: 'through a window in the bone',
  'leave-in': 'without a move',
};

/** A move as a sentence goes on with it: `by(content, { move: 'hollow-ream' })` is `'with the hollow reamer'`. */
export function by(content: Content, { move, what }: Way): string {
  if (what !== undefined) return `by "${what}"`;
  const said = (ways as Partial<Record<AnyMoveId, string>>)[move];
  if (said === undefined) return `by "${inSentence(content, content.phrases.moves[move].label)}"`;
  return said.replace('{tap}', () => label(content, 'reverse-tap'));
}

export const tool = (content: Content, id: ToolId): string => `the ${label(content, id)}`;
export const toolOf = (content: Content, running: Running): string => `the ${held(content, running)}`;
export const someTool: string = 'a tool';
export const part = partName;

const words = 'no one two three four five six seven eight nine ten eleven twelve'.split(' ');
const number = (n: number): string => words[n] ?? String(n);
const screws = (n: number): string => `${n === 1 ? 'one' : number(n)} screw${n === 1 ? '' : 's'}`;

const at = (times: readonly string[]): string => (times.length ? ` at ${and(times)}` : '');
const span = (times: readonly string[]): string =>
  times.length > 1 ? ` between ${times[0]} and ${times.at(-1)}` : at(times);

/** When, as far as it is told. */
const when = ({ detail, ids, times }: Told): string =>
  detail === 0 ? (ids.length > 1 ? '' : at(times)) : detail < 3 ? span(times) : '';

/** Which screws, as far as they are told. */
function who({ detail, ids }: Told): string {
  if (detail > 1) return screws(ids.length);
  if (ids.length === 1) return screw(ids[0]?.id ?? '');
  if (detail === 1) return `screws ${and(ranges(ids.map(({ id }) => id)))}`;
  return `screws ${and(ids.map(({ id, times }) => `${id}${times.length ? ` (${times.join(', ')})` : ''}`))}`;
}
const was = ({ ids }: Told): string => (ids.length > 1 ? 'were' : 'was');
const way = ({ ways: [one] }: Told): string => one ?? '';
/** By one way, or how many there were. */
const anyWay = ({ ways: all, detail }: Told): string =>
  detail < 2 ? or(all) : all.length === 1 ? (all[0] ?? '') : `in ${number(all.length)} ways`;
const because = ({ text }: Told): string => (text === null ? '' : `: ${text}`);
/** "the head of screw 3", "the heads of screws 3 and 5". */
const of = (what: string, told: Told): string => `the ${what}${told.ids.length > 1 ? 's' : ''} of ${who(told)}`;

const partMoves: Record<EntryOf<'part-move'>['move'], string> = {
  lift: 'by lifting',
  'lever-plate': 'by levering',
  'cap-off': 'at its cap',
  'seat-extractor': 'with the extractor',
  'hammer-nail': 'with the hammer',
  'hook-from-below': 'with a hook from below',
};
const partOutcomes: Record<NonNullable<EntryOf<'part-move'>['outcome']>, string> = {
  moving: ', with movement',
  out: ', until out',
  'no-change': ', without change',
  'tool-broke': ', the tool broken',
  'bone-broke': ', the bone broken',
};

/** "All six screws and the plate". */
function summary(told: Told): string {
  const { out, of: all, parts } = howOf(told, 'out');
  const some =
    out === 0
      ? []
      : out === all
        ? [all === 1 ? 'the screw' : all === 2 ? 'both screws' : `all ${number(all)} screws`]
        : [`${number(out)} of ${number(all)} screws`];
  const things = parts.length > 3 ? [`${number(parts.length)} other parts`] : parts;
  return `${and([...some, ...things])} ${out + parts.length > 1 ? 'were' : 'was'} taken out`;
}

const tellers: Tellers = {
  summary,
  'side-corrected': (t) => `the side was corrected from ${howOf(t, 'was').was} to ${howOf(t, 'was').now}${when(t)}`,
  'bone-corrected': (t) =>
    t.detail > 1
      ? `the name of the bone was corrected${when(t)}`
      : `the bone was corrected from ${howOf(t, 'was').was} to ${howOf(t, 'was').now}${when(t)}`,
  'turned-out': (t) =>
    t.ids.length === 1
      ? `${who(t)} was turned out ${way(t)}${when(t)}`
      : `${screws(t.ids.length)}${t.detail > 1 ? '' : ` (${ranges(t.ids.map(({ id }) => id)).join(', ')})`} were turned out ${way(t)}`,
  'taken-out': (t) =>
    `${who(t)} ${was(t)} taken out ${way(t)}${when(t)}${isUnaccounted(t) ? ', not all of it accounted for' : ''}`,
  'called-out': (t) => `${who(t)} ${was(t)} entered as out${when(t)}, not all of it accounted for`,
  slipped: (t) => `${t.thing || 'the tool'} slipped in ${who(t)}${when(t)}`,
  'no-change': (t) => `${who(t)} did not move ${anyWay(t)}${when(t)}`,
  'turns-free': (t) => `${who(t)} turned without coming ${anyWay(t)}${when(t)}`,
  'drilled-off': (t) => `${of('head', t)} ${was(t)} drilled off${when(t)}`,
  'head-came-off': (t) => `${of('head', t)} came off ${way(t)}${when(t)}`,
  'shank-broke': (t) => `${of('shank', t)} broke ${way(t)}${when(t)}`,
  'tool-broke': (t) => `${t.thing} broke on ${who(t)}${when(t)}${isTipMissing(t) ? ', its tip missing' : ''}`,
  'tool-jammed': (t) => `${t.thing} jammed in ${who(t)}${when(t)}`,
  moved: (t) => `${who(t)} moved ${anyWay(t)}${when(t)}`,
  readied: (t) => `${who(t)} ${was(t)} made ready ${anyWay(t)}${when(t)}`,
  'other-end': (t) => (t.detail > 1 ? further(t.count) : `${howOf(t, 'said').said}${when(t)}`),
  interrupted: (t) => `work on ${who(t)} was interrupted${when(t)}`,
  'end-not-told': (t) => `work on ${who(t)} ${anyWay(t)} was begun${when(t)}, its end not recorded`,
  'plate-off': (t) => `${t.thing} was lifted off the bone${when(t)}`,
  'part-move': (t) => {
    const { part: move, outcome } = howOf(t, 'part');
    return `${t.thing} was worked on ${partMoves[move]}${when(t)}${outcome === null ? '' : partOutcomes[outcome]}`;
  },
  'part-left': (t) => `${t.thing} was left in${when(t)}${because(t)}`,
  'part-not-found': (t) => `${t.thing} was not found${when(t)}`,
  'put-in': (t) => (t.detail > 1 ? `metal was put in${when(t)}` : `metal was put in${when(t)}: ${t.thing}`),
  'left-in': (t) => `${who(t)} ${was(t)} left in${when(t)}${because(t)}`,
  'tip-left': (t) => `a piece of ${t.thing} was left in${when(t)}${because(t)}`,
  piece: (t) =>
    t.ids.length > 1 ? `pieces of ${who(t)} were recovered${when(t)}` : `a piece of ${who(t)} was recovered${when(t)}`,
  'all-of-it': (t) => `all of ${who(t)} was recovered${when(t)}`,
  'tip-piece': (t) => `a piece of ${t.thing} was recovered${when(t)}`,
  destroyed: (t) => {
    const { destroyed: what, by: how } = howOf(t, 'destroyed');
    const name = what === 'all' ? `the rest of ${who(t)}` : of(what, t);
    return `${name} ${what === 'all' ? 'was' : was(t)} ${how === 'shavings' ? 'cut to shavings' : 'burred away'}${when(t)}`;
  },
  'tool-damaged': (t) => `${t.thing} was damaged${when(t)}${isTipMissing(t) ? ', its tip missing' : ''}`,
  event: (t) => `${events[howOf(t, 'event').event]}${when(t)}${because(t)}`,
  stopped: (t) => {
    const { stop } = howOf(t, 'stop');
    const why = semicolons(stop, t.text);
    return `the work was stopped${when(t)}${why === '' ? '' : `: ${why}`}`;
  },
  'put-off': (t) => `${who(t)} ${was(t)} put off until later${when(t)}`,
  colleague: (t) => `a colleague was called${when(t)}${because(t)}`,
  'found-out-after': (t) => `${who(t)} ${was(t)} found out after closing${when(t)}`,
  'said-to-stay-after': (t) => `${who(t)} ${was(t)} said after closing to be in${when(t)}`,
  'told-after': (t) =>
    t.thing !== ''
      ? `what became of ${t.thing} was told after closing${when(t)}`
      : `${number(t.count)} move${t.count === 1 ? '' : 's'} on ${who(t)} ${t.count === 1 ? 'was' : 'were'} told after closing`,
  further: (t) => further(t.count),
};

export const tell = (kind: DeedKind, told: Told): string => tellers[kind](told);

/** What was left to the timeline. */
export const further = (entries: number): string =>
  `${entries === 1 ? 'one further entry was' : `${number(entries)} further entries were`} left to the timeline`;
