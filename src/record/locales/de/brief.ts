/** The sentences of the first page in German: past tense, one verb of doing each, without a capital or a full stop. */
import type { AnyMoveId, MoveId, ToolId } from '../../../../content/ids.ts';
import type { Content } from '../../../../content/types.ts';
import type { EntryOf } from '../../../../machines/entry.ts';
import { ranges, semicolons } from '../../../format/prose.ts';
import type { DeedKind, Way } from '../../brief/deed.ts';
import { howOf, isTipMissing, isUnaccounted, type Tellers, type Told } from '../../brief/words.ts';
import type { Running } from '../telling.ts';
import { and, or, quoted, screw, tool as label } from './base.ts';
import { partName, toolOf as held } from './entries.ts';

/** By what it was done or tried. No verb stands in these. */
const ways: Record<MoveId, string> = {
  'turn-out': 'mit dem passenden Schraubendreher',
  'reseat-driver': 'mit neu angesetztem Schraubendreher',
  'pack-recess': 'mit Folie im Antrieb',
  'drive-oversize': 'mit eingeschlagenem engem Schraubendreher',
  'grip-head': 'mit Griff am Kopf',
  'conical-extractor': 'mit dem Ausdrehkonus',
  'reverse-tap': 'mit dem Linksgewindeschneider',
  'free-plate': 'zusammen mit der Platte',
  'slot-head': 'über einen Schlitz oder Flächen am Kopf',
  'drill-head-off': 'mit dem Bohrer im Kopf',
  'grip-shank': 'mit Griff am Schaft',
  'gouge-and-grip': 'mit Hohlmeißel und Griff',
  'far-side': 'von der Gegenseite',
  'push-through': 'zur Gegenseite hindurch',
  'hollow-ream': 'mit der Hohlfräse',
  'extraction-sleeve': 'mit der Ausdrehhülse',
  'burr-out': 'mit der Fräse',
  uncover: 'mit freiem Kopf',
  'break-loose': 'mit Klopfen und Lockern',
  'lift-and-turn': 'unter Zug',
  'open-near-cortex': 'mit offener naher Kortikalis',
  window: 'durch ein Knochenfenster',
  'leave-in': 'ohne Schritt',
};

/** A move as a sentence goes on with it: `by(content, { move: 'hollow-ream' })` is `'mit der Hohlfräse'`. */
export function by(content: Content, { move, what }: Way): string {
  if (what !== undefined) return `mit ${quoted(what)}`;
  return (ways as Partial<Record<AnyMoveId, string>>)[move] ?? `mit ${quoted(content.phrases.moves[move].label)}`;
}

/** Without an article: it stands behind a colon or in brackets. */
export const tool = (content: Content, id: ToolId): string => label(content, id);
/** In the nominative with its article. */
export const toolOf = (content: Content, running: Running): string => held(content, running);
export const someTool: string = 'Werkzeug';
/** In the nominative with its article. */
export const part = (id: string): string =>
  id === 'plate' ? `die ${partName(id)}` : id === 'nail' ? `der ${partName(id)}` : partName(id);

const words = 'keine eine zwei drei vier fünf sechs sieben acht neun zehn elf zwölf'.split(' ');
const number = (n: number): string => words[n] ?? String(n);
const screws = (n: number): string => (n === 1 ? 'eine Schraube' : `${number(n)} Schrauben`);

const at = (times: readonly string[]): string =>
  times.length ? ` ${/^\d+\./.test(times[0] as string) ? 'am' : 'um'} ${and(times)}` : '';
const span = (times: readonly string[]): string =>
  times.length > 1 ? ` zwischen ${times[0]} und ${times.at(-1)}` : at(times);

/** When, as far as it is told. */
const when = ({ detail, ids, times }: Told): string =>
  detail === 0 ? (ids.length > 1 ? '' : at(times)) : detail < 3 ? span(times) : '';

const listed = ({ detail, ids }: Told): string =>
  detail === 1
    ? and(ranges(ids.map(({ id }) => id)))
    : and(ids.map(({ id, times }) => `${id}${times.length ? ` (${times.join(', ')})` : ''}`));
const isMany = ({ ids }: Told): boolean => ids.length > 1;
const one = ({ ids }: Told): string => screw(ids[0]?.id ?? '');
/** Which screws, as far as they are told: as the subject, after "von" or "der", after "in" or "an". */
const who = (t: Told): string =>
  t.detail > 1 ? screws(t.ids.length) : isMany(t) ? `die Schrauben ${listed(t)}` : one(t);
const ofWhom = (t: Told): string =>
  t.detail > 1
    ? `von ${t.ids.length === 1 ? 'einer Schraube' : screws(t.ids.length)}`
    : isMany(t)
      ? `der Schrauben ${listed(t)}`
      : `von ${one(t)}`;
const onWhom = (t: Told): string =>
  t.detail > 1
    ? t.ids.length === 1
      ? 'einer Schraube'
      : screws(t.ids.length)
    : isMany(t)
      ? `den Schrauben ${listed(t)}`
      : one(t);
const was = (t: Told): string => (isMany(t) ? 'wurden' : 'wurde');
const way = ({ ways: [first] }: Told): string => first ?? '';
/** By one way, or how many there were. */
const anyWay = ({ ways: all, detail }: Told): string =>
  detail < 2 ? or(all) : all.length === 1 ? (all[0] ?? '') : `auf ${number(all.length)} Wegen`;
const because = ({ text }: Told): string => (text === null ? '' : `: ${text}`);

const partMoves: Record<EntryOf<'part-move'>['move'], string> = {
  lift: 'durch Anheben',
  'lever-plate': 'durch Hebeln',
  'cap-off': 'an der Kappe',
  'seat-extractor': 'mit dem Ausziehgerät',
  'hammer-nail': 'mit dem Hammer',
  'hook-from-below': 'mit dem Haken von unten',
};
const partOutcomes: Record<NonNullable<EntryOf<'part-move'>['outcome']>, string> = {
  moving: ', mit Bewegung',
  out: ', bis heraus',
  'no-change': ', ohne Änderung',
  'tool-broke': ', mit Bruch des Werkzeugs',
  'bone-broke': ', mit Bruch des Knochens',
};

/** What happened, around when it did. */
const events: Record<EntryOf<'event'>['kind'], readonly [string, string]> = {
  bleeding: ['eine Blutung wurde', ' bemerkt'],
  pause: ['eine Pause wurde', ' gemacht'],
  'incision-extended': ['der Schnitt wurde', ' verlängert'],
  'bone-broke': ['der Knochen brach', ''],
  'not-healed': ['der Knochen wurde', ' nicht verheilt gefunden'],
  'infection-found': ['eine Infektion wurde', ' gefunden'],
  'samples-sent': ['Proben wurden', ' eingeschickt'],
  'glove-changed': ['Handschuhe wurden', ' gewechselt'],
  'person-arrived': ['jemand kam', ' dazu'],
  'piece-dropped': ['ein Stück fiel', ' herunter'],
  'image-review': ['eine Aufnahme wurde', ' noch einmal angesehen'],
  other: ['etwas anderes geschah', ''],
};

/** "Alle sechs Schrauben und die Platte". */
function summary(t: Told): string {
  const { out, of: all, parts } = howOf(t, 'out');
  const some =
    out === 0
      ? []
      : out === all
        ? [all === 1 ? 'die Schraube' : all === 2 ? 'beide Schrauben' : `alle ${number(all)} Schrauben`]
        : [`${number(out)} von ${number(all)} Schrauben`];
  const things = parts.length > 3 ? [`${number(parts.length)} weitere Teile`] : parts;
  return `${and([...some, ...things])} ${out + parts.length > 1 ? 'wurden' : 'wurde'} entfernt`;
}

const tellers: Tellers = {
  summary,
  'side-corrected': (t) => `die Seite wurde${when(t)} von ${howOf(t, 'was').was} auf ${howOf(t, 'was').now} berichtigt`,
  'bone-corrected': (t) =>
    t.detail > 1
      ? `der Name des Knochens wurde${when(t)} berichtigt`
      : `der Knochen wurde${when(t)} von ${howOf(t, 'was').was} auf ${howOf(t, 'was').now} berichtigt`,
  'turned-out': (t) =>
    isMany(t)
      ? `${screws(t.ids.length)}${t.detail > 1 ? '' : ` (${ranges(t.ids.map(({ id }) => id)).join(', ')})`} wurden ${way(t)} herausgedreht`
      : `${who(t)} wurde${when(t)} ${way(t)} herausgedreht`,
  'taken-out': (t) =>
    `${who(t)} ${was(t)}${when(t)} ${way(t)} entfernt${isUnaccounted(t) ? ', nicht ganz nachgewiesen' : ''}`,
  'called-out': (t) => `${who(t)} ${was(t)}${when(t)} als draußen eingetragen, nicht ganz nachgewiesen`,
  slipped: (t) => `${t.thing || 'das Werkzeug'} rutschte${when(t)} in ${onWhom(t)} ab`,
  'no-change': (t) => `${who(t)} bewegte${isMany(t) ? 'n' : ''} sich${when(t)} nicht (${anyWay(t)})`,
  'turns-free': (t) => `${who(t)} drehte${isMany(t) ? 'n' : ''} sich${when(t)} nur leer (${anyWay(t)})`,
  'drilled-off': (t) =>
    isMany(t) ? `die Köpfe ${ofWhom(t)} wurden${when(t)} abgebohrt` : `der Kopf ${ofWhom(t)} wurde${when(t)} abgebohrt`,
  'head-came-off': (t) =>
    isMany(t)
      ? `die Köpfe ${ofWhom(t)} gingen${when(t)} ${way(t)} ab`
      : `der Kopf ${ofWhom(t)} ging${when(t)} ${way(t)} ab`,
  'shank-broke': (t) =>
    isMany(t)
      ? `die Schäfte ${ofWhom(t)} brachen${when(t)} ${way(t)}`
      : `der Schaft ${ofWhom(t)} brach${when(t)} ${way(t)}`,
  'tool-broke': (t) => `${t.thing} brach${when(t)} an ${onWhom(t)}${isTipMissing(t) ? ', Spitze fehlend' : ''}`,
  'tool-jammed': (t) => `${t.thing} klemmte${when(t)} in ${onWhom(t)} fest`,
  moved: (t) => `${who(t)} bewegte${isMany(t) ? 'n' : ''} sich${when(t)} ${anyWay(t)}`,
  readied: (t) => `${who(t)} ${was(t)}${when(t)} ${anyWay(t)} vorbereitet`,
  'other-end': (t) => (t.detail > 1 ? further(t.count) : `${howOf(t, 'said').said}${when(t)}`),
  interrupted: (t) => `die Arbeit an ${onWhom(t)} wurde${when(t)} unterbrochen`,
  'end-not-told': (t) => `die Arbeit an ${onWhom(t)} ${anyWay(t)} wurde${when(t)} begonnen, mit nicht bekanntem Ende`,
  'plate-off': (t) => `${t.thing} wurde${when(t)} vom Knochen gelöst`,
  'part-move': (t) => {
    const { part: move, outcome } = howOf(t, 'part');
    return `${t.thing} wurde${when(t)} ${partMoves[move]} bearbeitet${outcome === null ? '' : partOutcomes[outcome]}`;
  },
  'part-left': (t) => `${t.thing} wurde${when(t)} belassen${because(t)}`,
  'part-not-found': (t) => `${t.thing} wurde${when(t)} nicht gefunden`,
  'put-in': (t) =>
    t.detail > 1 ? `Metall wurde${when(t)} eingebracht` : `Metall wurde${when(t)} eingebracht: ${t.thing}`,
  'left-in': (t) => `${who(t)} ${was(t)}${when(t)} belassen${because(t)}`,
  'tip-left': (t) => `ein Stück eines Werkzeugs (${t.thing}) wurde${when(t)} belassen${because(t)}`,
  piece: (t) =>
    isMany(t) ? `Stücke ${ofWhom(t)} wurden${when(t)} geborgen` : `ein Stück ${ofWhom(t)} wurde${when(t)} geborgen`,
  'all-of-it': (t) => `${who(t)} ${was(t)}${when(t)} ganz geborgen`,
  'tip-piece': (t) => `ein Stück eines Werkzeugs (${t.thing}) wurde${when(t)} geborgen`,
  destroyed: (t) => {
    const { destroyed: what, by: how } = howOf(t, 'destroyed');
    const done = how === 'shavings' ? 'zu Spänen zerkleinert' : 'weggefräst';
    if (what === 'all') return `der Rest ${ofWhom(t)} wurde${when(t)} ${done}`;
    const [single, plural] = what === 'head' ? ['der Kopf', 'die Köpfe'] : ['der Schaft', 'die Schäfte'];
    return `${isMany(t) ? plural : single} ${ofWhom(t)} ${was(t)}${when(t)} ${done}`;
  },
  'tool-damaged': (t) =>
    `ein Werkzeug (${t.thing}) wurde${when(t)} beschädigt${isTipMissing(t) ? ', Spitze fehlend' : ''}`,
  event: (t) => events[howOf(t, 'event').event].join(when(t)) + because(t),
  stopped: (t) => {
    const why = semicolons(howOf(t, 'stop').stop, t.text);
    return `die Arbeit wurde${when(t)} abgebrochen${why === '' ? '' : `: ${why}`}`;
  },
  'put-off': (t) => `${who(t)} ${was(t)}${when(t)} auf später verschoben`,
  colleague: (t) => `eine weitere Fachperson wurde${when(t)} gerufen${because(t)}`,
  'found-out-after': (t) => `${who(t)} ${was(t)} nach dem Abschluss${when(t)} als draußen eingetragen`,
  'said-to-stay-after': (t) => `${who(t)} ${was(t)} nach dem Abschluss${when(t)} als noch im Körper eingetragen`,
  'told-after': (t) =>
    t.thing !== ''
      ? `der Verbleib von ${t.thing.replace(/^die /, 'der ').replace(/^der Nagel/, 'dem Nagel')} wurde nach dem Abschluss${when(t)} eingetragen`
      : `${t.count === 1 ? 'ein Schritt' : `${number(t.count)} Schritte`} an ${onWhom(t)} ${t.count === 1 ? 'wurde' : 'wurden'} nach dem Abschluss eingetragen`,
  further: (t) => further(t.count),
};

export const tell = (kind: DeedKind, told: Told): string => tellers[kind](told);

/** What was left to the timeline. */
export const further = (entries: number): string =>
  entries === 1
    ? 'ein weiterer Eintrag wurde dem Zeitverlauf überlassen'
    : `${number(entries)} weitere Einträge wurden dem Zeitverlauf überlassen`;
