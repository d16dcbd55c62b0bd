/** The sentences of the entries that format 2 brought, in German: past tense, without a capital or a full stop. */
import type { HeadPlace, PartKind, StopReason } from '../../../../content/ids.ts';
import type { EntryOf, EntryType } from '../../../../machines/entry.ts';
import { semicolons, some } from '../../../format/prose.ts';
import type { Telling } from '../telling.ts';
import { and, bore, clean, constructs, mm, num, quoted, roles, screw, sides, tool } from './base.ts';

export const parts: Record<PartKind, string> = {
  plate: 'Platte',
  nail: 'Nagel',
  'end-cap': 'Endkappe',
  washer: 'Unterlegscheibe',
  barrel: 'Zylinder',
  'coupling-screw': 'Verbindungsschraube',
  nut: 'Mutter',
  wire: 'Draht',
  cable: 'Drahtseil',
  pin: 'Stift',
  staple: 'Klammer',
  foil: 'Folie',
  'guide-wire': 'Führungsdraht',
  other: 'anderes Teil',
};

/**
 * A part by its id: the plate or nail of the case by its name alone, foil by its screw and the entry that packed it.
 *
 * @example partName('plate') // 'Platte'
 * @example partName('foil-3-17') // 'Folie von Schraube 3 (Eintrag 17)'
 */
export function partName(id: string): string {
  const [, of, n] = packed.exec(id) ?? [];
  if (of !== undefined) return `Folie von ${screw(of)} (Eintrag ${n})`;
  return id === 'plate' || id === 'nail' ? parts[id] : `Teil ${clean(id)}`;
}
/** Foil that a move packed into a recess, as the log numbers it. */
const packed = /^foil-(.+)-(\d+)$/;

export const heads: Record<HeadPlace, string> = {
  piece: 'kam in einem Stück ab und war draußen',
  'in-plate': 'steckte in der Platte',
  shavings: 'wurde zu Spänen',
  partly: 'wurde nur zum Teil gesehen',
  'not-seen': 'wurde nicht gesehen',
};

export const stops: Record<StopReason, string> = {
  anaesthesia: 'Anästhesie',
  patient: 'Zustand des Patienten',
  bleeding: 'Blutung',
  bone: 'der Knochen',
  infection: 'Infektion',
  time: 'Zeit',
  planned: 'wie geplant',
  other: 'ein anderer Grund',
};

export const events: Record<EntryOf<'event'>['kind'], string> = {
  bleeding: 'eine Blutung wurde bemerkt',
  pause: 'es gab eine Pause',
  'incision-extended': 'der Schnitt wurde verlängert',
  'bone-broke': 'der Knochen brach',
  'not-healed': 'der Knochen erwies sich als nicht verheilt',
  'infection-found': 'eine Infektion wurde gefunden',
  'samples-sent': 'Proben wurden eingeschickt',
  'glove-changed': 'Handschuhe wurden gewechselt',
  'person-arrived': 'jemand kam dazu',
  'piece-dropped': 'ein Stück fiel herunter',
  'image-review': 'eine Aufnahme wurde noch einmal angesehen',
  other: 'etwas anderes geschah',
};

export const partMoves: Record<EntryOf<'part-move'>['move'], string> = {
  lift: 'Anheben',
  'lever-plate': 'Abhebeln der Platte',
  'cap-off': 'Abnehmen der Kappe',
  'seat-extractor': 'Ansetzen des Ausziehgeräts',
  'hammer-nail': 'Ausschlagen des Nagels',
  'hook-from-below': 'Fassen mit dem Haken von unten',
};
const partOutcomes: Record<NonNullable<EntryOf<'part-move'>['outcome']>, string> = {
  moving: 'es bewegte sich',
  out: 'es kam heraus',
  'no-change': 'es änderte sich nichts',
  'tool-broke': 'das Werkzeug brach',
  'bone-broke': 'der Knochen brach',
};

const checks: Record<EntryOf<'checked'>['what'], string> = {
  'loosen-first': 'ob zuerst gelöst wurde',
  'first-turn': 'die erste Umdrehung',
  'extractor-on': 'ob das Ausziehgerät sitzt',
  'eyes-and-swabs': 'Augen und Tupfer',
};

const origins = { measured: 'gemessen', image: 'aus einer Aufnahme', difference: 'als Differenz' } as const;
/** A length with where it comes from; in format 1 nobody said where. */
export const lengthWords = (length: number, how: keyof typeof origins | undefined): string =>
  how === undefined ? mm(length) : `${mm(length)} (${origins[how]})`;

const recesses = {
  damaged: 'der Antrieb war beschädigt',
  sound: 'der Antrieb war heil',
  'not-seen': 'der Antrieb wurde nicht gesehen',
};
const turned = {
  screw: 'die Schraube drehte mit',
  driver: 'der Schraubendreher drehte allein',
  'not-known': 'was sich drehte, war nicht bekannt',
};

/** What may be said of a move at its end or after it. */
export const afterwards = (
  e: Pick<EntryOf<'move-answered'>, 'recess' | 'head' | 'turned' | 'depth'>,
): (string | false)[] => [
  e.recess !== undefined && recesses[e.recess],
  e.turned !== undefined && turned[e.turned],
  e.head !== undefined && `der Kopf ${heads[e.head]}`,
  e.depth !== undefined && `${mm(e.depth)} tief`,
];

const placers = {
  'same-team': 'demselben Team',
  'other-team': 'einem anderen Team',
  unknown: 'einem nicht bekannten Team',
};
/** Who put the metal in. */
export const placedBy = (by: keyof typeof placers): string => `Metall eingebracht von ${placers[by]}`;
const limbs = { upper: 'Arm', lower: 'Bein', foot: 'Fuß', trunk: 'Rumpf', 'not-known': 'Körperteil nicht bekannt' };
const patients = { adult: 'erwachsen', child: 'Kind', 'not-known': 'ob erwachsen oder Kind, nicht bekannt' };
/** What is known of the patient and the limb. */
export const aboutPatient = (e: Pick<EntryOf<'case-opened'>, 'limb' | 'patient' | 'fragile'>): (string | false)[] => [
  e.limb !== undefined && limbs[e.limb],
  e.patient !== undefined && patients[e.patient],
  e.fragile === true && 'der Knochen gilt als brüchig',
  e.fragile === false && 'der Knochen gilt nicht als brüchig',
  e.fragile === null && 'ob der Knochen brüchig ist, war nicht bekannt',
];

type NewTypes =
  | 'format-raised'
  | 'case-corrected'
  | 'resumed'
  | 'at-tablet'
  | 'part-listed'
  | 'part-ended'
  | 'put-in'
  | 'part-move'
  | 'destroyed'
  | 'head-seen'
  | 'reassigned'
  | 'stopped'
  | 'deferred'
  | 'event'
  | 'move-answered'
  | 'length-answered'
  | 'checked'
  | 'aftercare'
  | 'hole-seen';

export const tellers2: { [T in Extract<EntryType, NewTypes>]: (entry: EntryOf<T>, telling: Telling) => string } = {
  'format-raised': (e) => `von hier an steht das Protokoll im Format ${e.to}`,
  'case-corrected': (e) =>
    semicolons(
      `der Fall wurde berichtigt: ${
        some(
          e.label !== undefined && `Bezeichnung ${quoted(clean(e.label))}`,
          e.side && `Seite ${sides[e.side]}`,
          e.bone !== undefined && `Knochen ${clean(e.bone)}`,
          e.construct && constructs[e.construct],
          e.zone !== undefined && `Zeitzone ${clean(e.zone)}`,
          e.placedBy && placedBy(e.placedBy),
          e.placedMonthsAgo !== undefined && `vor ${num(e.placedMonthsAgo)} Monaten eingebracht`,
          ...aboutPatient(e),
        ).join(', ') || 'nichts wurde geändert'
      }`,
      `Grund: ${clean(e.reason)}`,
    ),
  resumed: (e) =>
    `das Protokoll wurde fortgesetzt auf ${clean(e.device)}${e.gap === 'known' ? '' : '; wie viel Zeit vergangen war, wurde nicht bestätigt'}`,
  'at-tablet': (e) =>
    `am Tablet von jetzt an: ${e.who === undefined ? roles[e.role] : `${clean(e.who)} (${roles[e.role]})`}`,
  'part-listed': (e) =>
    semicolons(
      `${partName(e.part)} wurde aufgeführt: ${some(parts[e.kind], e.what !== undefined && clean(e.what)).join(', ')}`,
      e.length !== undefined && `${mm(e.length)} lang`,
      e.pieces !== undefined && e.pieces > 1 && `in ${e.pieces} Stücken`,
    ),
  'part-ended': (e) => {
    const name = e.piece === undefined ? partName(e.part) : `Stück ${e.piece} von: ${partName(e.part)}`;
    const ends = { out: 'kam heraus', 'left-in': 'wurde belassen', 'not-found': 'wurde nicht gefunden' } as const;
    return semicolons(
      `${name} ${ends[e.end]}`,
      e.complete === true && 'das war alles davon',
      e.where !== undefined && `wo: ${clean(e.where)}`,
      e.reason !== undefined && `warum: ${clean(e.reason)}`,
      e.imageTaken !== undefined && (e.imageTaken ? 'ein Röntgenbild wurde gemacht' : 'kein Röntgenbild wurde gemacht'),
    );
  },
  'put-in': (e) =>
    semicolons(
      `Metall wurde eingebracht: ${clean(e.kind)}, ${e.part === undefined ? screw(e.screw ?? '') : partName(e.part)}`,
      e.length !== undefined && `${mm(e.length)} lang`,
      `wo: ${clean(e.where)}`,
    ),
  'part-move': (e, { content }) =>
    semicolons(
      `${partName(e.part)}: ${partMoves[e.move]}${e.tool ? `, Werkzeug: ${tool(content, e.tool)}` : ''}`,
      e.outcome !== undefined && partOutcomes[e.outcome],
    ),
  destroyed: (e) => {
    const what = {
      head: `der Kopf von ${screw(e.screw)}`,
      shank: `der Schaft von ${screw(e.screw)}`,
      all: screw(e.screw),
    };
    return semicolons(
      `${what[e.what]} wurde ${e.how === 'shavings' ? 'zu Spänen' : 'weggefräst'}`,
      e.length !== undefined && lengthWords(e.length, e.lengthHow),
    );
  },
  'head-seen': (e) =>
    semicolons(
      `der Kopf von ${screw(e.screw)} ${heads[e.head]}`,
      e.part !== undefined && `in: ${e.piece === undefined ? '' : `Stück ${e.piece} von `}${partName(e.part)}`,
    ),
  reassigned: (e) =>
    e.swap
      ? `${screw(e.swap[0])} und ${screw(e.swap[1])} waren ab Eintrag ${e.from ?? 1} verwechselt`
      : `${e.entries?.length === 1 ? 'Eintrag' : 'die Einträge'} ${and((e.entries ?? []).map(String))} ${e.entries?.length === 1 ? 'gehörte' : 'gehörten'} zu ${screw(e.screw ?? '')}`,
  stopped: (e, { again }) =>
    semicolons(
      again ? 'warum die Arbeit abgebrochen wurde, ist gesagt' : 'die Arbeit wurde abgebrochen',
      e.reason !== undefined && `Grund: ${stops[e.reason]}`,
      e.text !== undefined && clean(e.text),
    ),
  deferred: (e) => `${screw(e.screw)} wurde auf später verschoben`,
  event: (e) =>
    semicolons(
      events[e.kind],
      e.screw !== undefined && `an ${screw(e.screw)}`,
      e.where !== undefined && `wo: ${clean(e.where)}`,
      e.text !== undefined && clean(e.text),
    ),
  'move-answered': (e) =>
    `zum Schritt in Eintrag ${e.of} wurde gesagt: ${semicolons(
      ...afterwards(e),
      e.bores && `gemachte Bohrungen: ${e.bores.length ? and(e.bores.map(bore)) : 'keine'}`,
    )}`,
  'length-answered': (e) => {
    const answers = {
      broke: 'sie brach, der Rest steckt noch',
      'listed-wrong': 'sie war falsch aufgeführt',
      lost: 'der Rest ist verloren',
    };
    return semicolons(
      `warum ${screw(e.screw)} zu kurz herauskam: ${answers[e.answer]}`,
      e.reachable === true && 'der Stumpf war an der nahen Kortikalis noch zu erreichen',
      e.reachable === false && 'der Rest lag zu tief, um ihn an der nahen Kortikalis zu erreichen',
    );
  },
  checked: (e) =>
    semicolons(
      `geprüft wurde: ${checks[e.what]}`,
      e.screw !== undefined && screw(e.screw),
      e.size !== undefined && `Größe ${num(e.size)}`,
    ),
  aftercare: (e, { content }) => {
    const states = { accepted: 'angenommen', changed: 'geändert', dropped: 'gestrichen' };
    return `eine Zeile zur Nachbehandlung wurde ${states[e.state]}: ${clean(e.text ?? content.aftercare.find(({ id }) => id === e.line)?.text ?? e.line ?? '')}`;
  },
  'hole-seen': (e) =>
    semicolons(
      `ein Loch von ${mm(e.diameter)} wurde gesehen, ${e.where === 'off-plate' ? 'abseits der Platte' : 'am Ende des Metalls'}`,
      e.screw !== undefined && `an ${screw(e.screw)}`,
    ),
};
