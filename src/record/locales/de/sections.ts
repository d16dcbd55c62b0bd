/** The sections of the note in German. */
import type { AnyMoveId, Role, ToolId } from '../../../../content/ids.ts';
import type { Content } from '../../../../content/types.ts';
import type { EntryOf } from '../../../../machines/entry.ts';
import type { MetalAccount } from '../../../../machines/view.types.ts';
import { capital, heading, semicolons, span } from '../../../format/prose.ts';
import type { Listing, Standing } from '../../standing.ts';
import {
  at,
  and,
  answers,
  clean,
  count,
  mm,
  notRecorded,
  num,
  percent,
  points,
  quoted,
  roles,
  screw,
  tool,
  yesNo,
} from './base.ts';
import type { PartFate } from '../../part-fate.ts';
import { countImages, doingOf } from './entries.ts';

/** Of so many mm; nothing where nobody knows. */
const of = (length: number | null): string => (length === null ? '' : ` von ${mm(length)}`);

export const title = (draft: boolean): string => `OP-Bericht: Metallentfernung${draft ? ' (ENTWURF)' : ''}`;

export const titles = {
  head: 'Fall',
  staysIn: 'Was drin bleibt',
  times: 'Datum und Zeiten',
  team: 'Team',
  operation: 'Operation',
  before: 'Vor der Operation',
  screws: 'Schraube für Schraube',
  tools: 'Werkzeug',
  bone: 'Knochenverlust und Festigkeit, geschätzt',
  holds: 'Grenzen und Halte',
  metal: 'Nachweis des Metalls',
  told: 'Gespräch mit dem Patienten',
  aftercare: 'Die Zeit danach',
  clocks: 'Uhren',
  timeline: 'Verlauf',
  changes: 'Berichtigungen und Nachträge',
  sterile: 'Für Aufbereitung und Nachschub',
  signature: 'Unterschrift',
  cautions: 'Hinweise',
};

export const noScrew: string = 'Keine Schraube wurde aufgeführt: nicht eingetragen.';
export const noEntry: string = 'Das Protokoll hat keinen Eintrag.';
export const told: string = 'Dem Patienten gesagt';

export const head = {
  status: 'Stand',
  statuses: {
    draft: 'ENTWURF: nicht unterschrieben',
    signed: 'unterschrieben',
    amended: 'ERGÄNZT: nach der Unterschrift kamen Einträge dazu',
  },
  patient: 'Patient (dieser Bericht nimmt weder Namen noch Nummer auf)',
  case: 'Fall',
  side: 'Seite',
  bone: 'Knochen',
  construct: 'Implantat',
  planned: 'Geplant',
  entries: 'Einträge im Protokoll',
  content: 'Inhalt',
  version: (version: string, reviewed: string, expires: string, expired: boolean): string =>
    `Fassung ${version}, geprüft ${reviewed}, gültig bis ${expires}${expired ? '; am Tag des Falls ABGELAUFEN' : ''}`,
  seal: 'Siegel',
  whole: 'unversehrt: Jeder Eintrag trägt sein Siegel, und die Kette passt',
  unsealed: 'UNVERSIEGELT: Nicht jeder Eintrag trägt ein Siegel, Schäden und Änderungen sind darum nicht zu sehen',
  sealless: 'UNVERSIEGELT: Das Protokoll hat keinen Eintrag',
  broken: (at: number | null): string =>
    `GEBROCHEN bei Eintrag ${at ?? 'unbekannt'}: Dort wurde das Protokoll beschädigt oder geändert`,
  sealTail: (seal: string): string =>
    `${seal}. Das Siegel zeigt Schäden und Änderungen; es hält niemanden auf, der ein gefälschtes Protokoll neu versiegelt`,
  openedAs: (was: string, by: number[]): string =>
    `eröffnet als ${was}, berichtigt durch Eintrag ${and(by.map(String))}`,
  lastSeal: 'Letztes Siegel',
};

export const piece = {
  material: (text: string): string => `Material: ${text}`,
  size: (text: string): string => `Größe: ${text}`,
  where: (text: string): string => `Wo: ${text}`,
  place: (text: string): string => `Liegt nach Schätzung: ${text}`,
  whyStays: (text: string): string => `Warum es bleibt: ${text}`,
  why: (text: string): string => `Warum: ${text}`,
  image: (text: string): string => `Röntgenbild: ${text}`,
  decidedBy: (text: string): string => `Entschieden von: ${text}`,
  told: (text: string): string => `Gesagt zu: ${text}`,
};

export const staysIn = {
  entry: (what: string, n: number | null): string => `${heading(what)}${n === null ? '' : ` (Eintrag ${n})`}`,
  none: 'Jede aufgeführte Schraube ist nach dem Protokoll draußen und nachgewiesen. Kein Stück ist als belassen eingetragen.',
  noneListed: 'Keine Schraube wurde aufgeführt und kein Stück als belassen eingetragen: nicht eingetragen.',
  scan: 'Der MR-Status von belassenem Metall wird hier nicht beurteilt. Vor jeder Untersuchung dem MRT-Team sagen.',
};

export const screws = {
  short: {
    broke: 'sie kam zu kurz heraus: sie brach, der Rest steckte noch',
    'listed-wrong': 'sie kam zu kurz heraus: sie galt als falsch aufgeführt',
    lost: 'sie kam zu kurz heraus: der Rest galt als verloren',
  },
  fate: (id: string, stage: string): string => `${screw(id)}: ${stage}`,
  after: {
    out: (n: number): string => `nach dem Abschluss gefunden: sie ist ganz draußen (Eintrag ${n})`,
    stays: (n: number): string => `nach dem Abschluss gesagt: sie bleibt im Körper (Eintrag ${n})`,
  },
  toldAfter: (n: number): string => `; nach dem Abschluss eingetragen (Eintrag ${n})`,
  notEnded: 'im Protokoll nicht beendet',
  interrupted: (n: number): string => `abgebrochen, Eintrag ${n}`,
  endedBy: (n: number): string => `niemand trug ein, wie es endete; beendet durch Eintrag ${n}`,
  took: (time: string, lasted: string | null): string => `, beendet ${time}${lasted === null ? '' : ` (${lasted})`}`,
  then: (stage: string): string => `; danach: ${stage}`,
  slips: (n: number): string => `${n}-mal im Antrieb abgerutscht`,
  noMove: 'Kein Schritt wurde eingetragen.',
};

const long = (length: number | null | undefined) =>
  length === null || length === undefined ? 'nicht bekannt' : mm(length);
const out = (length: number | null) => (length === null ? 'nicht gemessen' : mm(length));
type Account = Pick<MetalAccount, 'listed' | 'recovered' | 'destroyed' | 'left' | 'unaccounted' | 'closes'>;
type Closing = Record<
  | 'isIn'
  | 'complete'
  | 'whole'
  | 'stopped'
  | 'asked'
  | 'lost'
  | 'wrong'
  | 'inPlate'
  | 'headStays'
  | 'image'
  | 'besides',
  boolean
>;
const missing = (unaccounted: number | null) =>
  (unaccounted ?? 0) < -0.005
    ? `${mm(-(unaccounted ?? 0))} mehr als aufgeführt`
    : `nicht nachgewiesen ${long(unaccounted)}`;
const figuresOf = ({ recovered, destroyed, left, unaccounted }: Account) =>
  `geborgen ${out(recovered)}${destroyed === 0 ? '' : `, zerstört ${out(destroyed)}`}, bleibt ${out(left)}, ${missing(unaccounted)}`;

export const metal = {
  screw: (id: string, account: Account, closes: string): string =>
    `${screw(id)}: aufgeführt ${long(account.listed)}, ${figuresOf(account)}; ${closes}`,
  tip: (content: Content, id: ToolId, n: number, account: Account, closes: string): string =>
    `Spitze, ${tool(content, id)} (Eintrag ${n}): Länge ${long(account.listed)}, ${figuresOf(account)}; ${closes}`,
  closes: ({ closes, unaccounted, left, destroyed }: Account, how: Closing): string => {
    const short = mm(unaccounted ?? 0);
    switch (closes) {
      case 'measured':
        if (how.whole)
          return `nachgewiesen, gemessen; heil, Spitze und Kopf gesehen${how.besides ? '; DAZU WURDE EIN STÜCK VON IHR GENANNT: wovon es ist, wurde nicht gesagt' : ''}`;
        if (how.wrong) return 'nachgewiesen, gemessen; sie galt als falsch aufgeführt';
        return `nachgewiesen, gemessen${(unaccounted ?? 0) < -2 ? `, ${mm(-(unaccounted ?? 0))} länger als aufgeführt` : ''}`;
      case 'difference':
        if (how.headStays)
          return 'nachgewiesen als Differenz: die Stücke draußen wurden gemessen, der Kopf soll in der Platte stecken, die drin bleibt';
        if (left)
          return `nachgewiesen als Differenz: die Stücke draußen wurden gemessen${how.image ? ' oder auf einer Aufnahme abgelesen' : ''}, was bleibt, nicht; ein Bild wurde gemacht`;
        if (how.inPlate)
          return 'nachgewiesen als Differenz: die Stücke draußen wurden gemessen, der Kopf soll in der Platte stecken, die draußen ist';
        if (destroyed)
          return 'nachgewiesen als Differenz: die Stücke draußen wurden gemessen, der Rest gilt als zerstört';
        return 'nachgewiesen als Differenz: was gemessen oder auf einer Aufnahme abgelesen wurde, ergibt die Länge';
      case 'assumed':
        if (how.complete)
          return 'vollständig nach Augenschein: die Stücke wurden aneinandergelegt, nicht alle gemessen';
        if (how.stopped) return 'bleibt: die Arbeit wurde abgebrochen; kein Bruch eingetragen';
        if (how.whole) return 'nicht gemessen; heil, Spitze und Kopf gesehen';
        return 'als ganz genommen: nicht gemessen, kein Bruch eingetragen';
      default:
        if (how.asked) return `NICHT NACHGEWIESEN: sie kam ${short} zu kurz heraus, und warum, wurde nicht gesagt`;
        if (how.lost) return 'NICHT NACHGEWIESEN: der Rest gilt als verloren';
        if (how.complete) return `NICHT NACHGEWIESEN: vollständig genannt, ${short} zu kurz`;
        if (how.stopped)
          return 'NICHT NACHGEWIESEN: sie steckte beim Abbruch der Arbeit noch; wie viel davon, wurde nicht gemessen';
        return how.isIn ? 'NICHT NACHGEWIESEN: weder draußen noch als belassen eingetragen' : 'NICHT NACHGEWIESEN';
    }
  },
  noTip: 'Keine abgebrochene Werkzeugspitze wurde eingetragen.',
  heads: (what: string, cite: string): string =>
    `Ein Kopf, der fehlt, erklärt nicht mehr als seine Höhe. ${what} (${cite}).`,
  tolerance: (value: number, cite: string): string =>
    `Toleranz: ${mm(value)} je gemessenes Stück, mindestens ${mm(value)} und höchstens ${mm(2 * value)} zusammen${cite}. Das ist nicht die offizielle Zählkontrolle von Tupfern und Instrumenten.`,
  counts: 'Nachweis beantwortet',
  count: (time: string, entry: EntryOf<'count-answered'>, decidedBy: string | null): string =>
    semicolons(
      `${time} von: ${and([...new Set(entry.by)].map((role) => roles[role]))}`,
      `Abweichung: ${entry.discrepancy === undefined ? notRecorded : clean(entry.discrepancy)}`,
      decidedBy !== null && `entschieden von: ${decidedBy}`,
      entry.image === undefined
        ? `Röntgenbild: ${entry.imageTaken === true ? 'gemacht, Befund nicht eingetragen' : yesNo(entry.imageTaken)}`
        : countImages[entry.image],
    ),
};

export const parts = {
  became: (part: PartFate): string | null => {
    const words = parts.ended(part);
    return words === null || part.after === null
      ? words
      : `${words}, gesagt nach dem Abschluss (Eintrag ${part.after})`;
  },
  ended: ({ kind, end, closes, pieces, off, byStop }: PartFate): string | null => {
    const takenOff = kind === 'plate' ? 'vom Knochen abgenommen' : 'abgenommen';
    const taken = off === null ? '' : `, ${takenOff} ${at(off)}`;
    const of = pieces > 1 ? `, in ${pieces} Stücken` : '';
    if (closes === 'difference') return `zum Teil draußen, der Rest soll bleiben${of}${taken}`;
    if (end === 'put-in') return 'heute eingebracht';
    if (end === 'out')
      return closes === 'open' ? `zum Teil draußen${of}, vom Rest nichts gesagt${taken}` : `draußen${of}${taken}`;
    if (byStop) return 'beim Abbruch der Arbeit noch im Körper';
    if (end === 'left-in')
      return closes === 'open' ? `zum Teil belassen${of}, vom Rest nichts gesagt` : `belassen${of}`;
    if (end === 'not-found') return `nicht gefunden${of}${taken}`;
    return off === null ? null : `${takenOff} ${at(off)}; ob draußen, wurde nicht eingetragen`;
  },
  account: (part: PartFate): string => {
    const said = parts.became(part) ?? (part.asked ? 'niemand sprach davon' : 'Version 1 fragte nicht danach');
    const open = part.closes === 'open' ? '; NICHT NACHGEWIESEN' : '';
    const what = part.kind === 'foil' ? '' : ` (${part.what})`;
    return `${part.name}${what}: ${said}${open}`;
  },
};

const both = (label: string, own: string, made: string) =>
  `${label}: ${own} mit dem eigenen Loch der Schraube, ${own === made ? 'ebenso viel' : made} nach allem, was gemacht wurde`;

const mm3 = (modulus: number): string => `${Math.round(modulus)} mm³`;

export const aftercare = {
  label: 'Vom Operateur angenommen',
  unknown: (line: string): string => `Eine Zeile, die dieser Inhalt nicht hat (${clean(line)})`,
};

export const bone = {
  bores: (own: number | null, bores: string[], entered: boolean): string =>
    `Bohrungen neben dem eigenen Loch der Schraube${of(own)}: ${and(bores)}${entered ? '' : ' (wie von den Schritten zu erwarten, nicht gemessen)'}`,
  noBores: (own: number | null): string =>
    `Neben dem eigenen Loch der Schraube${of(own)} wurde keine Bohrung eingetragen oder erwartet`,
  unknown: 'Knochen auf dieser Höhe: nicht eingetragen, darum keine Zahl',
  sources: {
    measured: 'gemessen',
    film: 'auf einem Film gemessen',
    assumed: 'angenommen',
    named: 'nach dem Namen des Knochens angenommen, aus dem Gedächtnis',
  },
  size: (outer: number, cortex: number, source: string): string =>
    `Knochen auf dieser Höhe: Außendurchmesser ${mm(outer)}, Kortikalis ${mm(cortex)}, ${source}`,
  noDiameter: 'Durchmesser der Schraube: nicht bekannt, daher keine Zahl',
  asWide: 'Eine Bohrung so weit wie der Knochen: keine Zahl',
  torsion: (kept: number, low: number, high: number, untested: string): string =>
    `${percent(kept)} (${percent(low)} bis ${percent(high)}${untested && `; ${untested}`})`,
  beyondTested: 'außerhalb des geprüften Bereichs',
  notTested: 'dort nicht geprüft, das Band wird breiter',
  modulus: (ring: number, own: number, made: number): string =>
    `${both('Widerstandsmoment in der schwächsten Richtung', mm3(own), mm3(made))}; unversehrter Ring ${mm3(ring)}`,
  ofSound: (share: number, sound: number, cite: string): string =>
    `Gegen einen gesunden Knochen dieses Namens beim Erwachsenen, ${mm3(sound)}${cite}: ${percent(share)}`,
  noSound: 'Gegen einen gesunden Knochen dieses Namens beim Erwachsenen: kein Vergleich vorhanden',
  notModelled: {
    broken: 'Der Knochen ist gebrochen: nicht berechnet, keine Zahl',
    'near-joint': 'Gelenknah: hier nicht berechnet, kein Anteil',
    neck: 'Im Hals: hier nicht berechnet, kein Anteil',
    'lag-screw':
      'Eine Schenkelhalsschraube, und niemand hat gesagt, dass sie im Schaft liegt: hier nicht berechnet, kein Anteil',
    'bone-not-known': 'Knochen auf dieser Höhe: nicht eingetragen, darum keine Zahl',
    'diameter-not-known': 'Durchmesser der Schraube: nicht bekannt, daher keine Zahl',
    'opening-not-said': 'Knochen wurde eröffnet, und niemand hat gesagt, wie weit: keine Zahl',
    'openings-meet': 'Die Öffnung geht in die an einer anderen Schraube über: nicht berechnet, keine Zahl',
    'as-wide': 'Eine Bohrung so weit wie der Knochen: keine Zahl',
  },
  broken:
    'Der Knochen brach bei dieser Operation: gebrochen, nicht berechnet. Kein Anteil, keine Festigkeit und keine Grenze wird von ihm genannt.',
  weakest: (id: string, modulus: number, unknown: string[], levels: number): string =>
    `Schwächste von ${count(levels, 'Höhe', 'Höhen')} mit Zahlen, nach dem Widerstandsmoment: ${screw(id)}, ${mm3(modulus)}${unknown.length ? `; keine Zahlen an ${and(unknown.map(screw))}` : ''}`,
  openingsAsked: (ids: string[]): string =>
    `Lange Öffnungen an ${and(ids.map(screw))}: Ob sie ineinander übergehen, wurde nicht eingetragen; jede Höhe ist für sich berechnet`,
  hole: (where: 'off-plate' | 'end-of-metal', diameter: number, id: string | null): string =>
    `Ein Loch von ${mm(diameter)} ${where === 'off-plate' ? 'abseits der Platte' : 'am Ende von Metall, das bleibt'}${id === null ? '' : `, an ${screw(id)}`}: in diesen Zahlen nicht enthalten`,
  noHole: 'Löcher abseits der Platte und am Ende von Metall, das bleibt: nicht eingetragen',
  widens: (rate: number, cite: string): string =>
    `Jenseits des Geprüften wächst das Band der Drehung je d/D um ${num(rate)} nach beiden Seiten${cite}. Widerstandsmoment: unversehrter Ring mal erhaltene Biegefestigkeit.`,
  ring: (own: string, made: string): string => both('Verlust am Kortikalisring', own, made),
  bending: (own: string, made: string): string =>
    both('Erhaltene Biegefestigkeit in der schwächsten Richtung', own, made),
  twisting: (own: string, made: string): string => both('Erhaltene Drehfestigkeit (eigene Skala)', own, made),
  reachesUpper: (limit: number): string => `Der Verlust erreicht die obere Grenze von ${percent(limit)}`,
  reachesLower: (limit: number): string => `Der Verlust erreicht die untere Grenze von ${percent(limit)}`,
  open: 'Ein Schlitz, länger als der Knochen breit ist: bei Drehung mit einem offenen Querschnitt rechnen',
  basis: (rate: number, rateCite: string, testedTo: number, testedCite: string, limitsCite: string): string =>
    `Alle Zahlen sind Schätzungen. Ring und Biegung: ebene Geometrie eines Hohlzylinders. Drehung: exp(-${num(rate)} d/D)${rateCite}; geprüft bis ${num(testedTo)} des Durchmessers${testedCite}. Die Grenzen${limitsCite} sind Denkanstöße.`,
};

const kept = (value: boolean | undefined) =>
  value === undefined ? 'aufgehoben: nicht eingetragen' : value ? 'aufgehoben' : 'nicht aufgehoben';

export const tools = {
  damage: (content: Content, entry: EntryOf<'tool-damaged'>, time: string): string =>
    `${capital(tool(content, entry.tool))} ${at(time)}: ${clean(entry.how)}; Spitze ${entry.tipMissing ? 'fehlt' : 'fehlt nicht'}; ${kept(entry.kept)}`,
  unnamed: (n: number): string => `${count(n, 'Schritt', 'Schritte')} ohne genanntes Werkzeug`,
  used: 'Benutztes Werkzeug',
  damaged: 'Beschädigtes Werkzeug',
  wanted: 'Nicht als im Saal eingetragen, für einen Schritt, der deshalb zu war',
};

const on = (id: string | undefined) => (id === undefined ? '' : ` an ${screw(id)}`);

interface Begun {
  id: AnyMoveId;
  screw: string;
  n: number;
}

const answeredHow = (content: Content, { answer, screw: id }: EntryOf<'hold-answered'>, next: Begun | null): string => {
  if (answer === 'go-on' || answer === 'not-available') return `übergangen (${quoted(answers[answer])})`;
  if (answer !== 'heeded' || id === undefined) return answers[answer];
  return next === null
    ? `befolgt, danach begann an ${screw(id)} kein Schritt`
    : `befolgt; als Nächstes an ${screw(id)}: ${doingOf(content, next.id)} (Eintrag ${next.n})`;
};

export const holds = {
  answered: 'Beantwortete Halte',
  answer: (content: Content, entry: EntryOf<'hold-answered'>, time: string, next: Begun | null): string =>
    semicolons(
      `${time} ${quoted(content.phrases.holds[entry.hold].label)}${on(entry.screw)}: ${answeredHow(content, entry, next)}`,
      `auf Ansage: ${entry.onWordOf === undefined ? notRecorded : clean(entry.onWordOf)}`,
      `Grund: ${entry.reason === undefined ? notRecorded : clean(entry.reason)}`,
      `Eintrag ${entry.n}`,
    ),
  reverse: (content: Content, id: string, confirmed: boolean, n: number, time: string): string =>
    `${time} ${quoted(content.phrases.holds.reverse.label)} an ${screw(id)}: ${confirmed ? 'bestätigt' : 'nicht bestätigt'}, als der Schritt begann; Eintrag ${n}`,
  noAnswer: 'keine Antwort steht im Protokoll',
  called: 'Hinzugerufen',
  colleague: (time: string, who: string | undefined): string =>
    `${time} ${who === undefined ? 'Name nicht eingetragen' : clean(who)}`,
  unanswered: 'Ohne Antwort übergangen',
  passed: (
    content: Content,
    label: string,
    n: number,
    time: string | null,
    at: { id: AnyMoveId; screw: string } | string | null,
  ): string => {
    const when =
      typeof at === 'string' ? `: ${at}` : at && `, an ${screw(at.screw)} begann: ${doingOf(content, at.id)}`;
    return `${quoted(label)} bei Eintrag ${n}${time === null ? '' : ` (${time})`}${when ?? ''}`;
  },
  nonePassed: 'kein Eintrag im Protokoll überging einen offenen Halt',
  late: 'Später eingetragen, nicht gefragt',
  notAsked: (content: Content, { screw: id, move, n }: EntryOf<'move-started'>, time: string): string =>
    `${time} an ${screw(id)}: ${doingOf(content, move)}; Eintrag ${n}`,
  standing: 'Beim letzten Eintrag offen',
  stands: (label: string, id?: string): string => `${quoted(label)}${on(id)}`,
  noneStands: 'kein Halt ist offen',
  noneStood: 'kein Halt war offen, als der Fall geschlossen wurde',
  never: 'Nie beantwortet',
  neverOf: (label: string, n: number, id?: string): string =>
    `${quoted(label)}${on(id)}: offen, als der Fall geschlossen wurde (Eintrag ${n}), und niemand antwortete`,
};

export const toldLine = (entry: EntryOf<'patient-told'>, time: string): string => {
  const named = entry.points.length
    ? and([...new Set(entry.points)].map((point) => points[point]))
    : 'kein Punkt genannt';
  return `${entry.state === 'told' ? 'gesagt' : 'noch zu sagen'}, von ${clean(entry.by)}, ${at(time)}: ${named}`;
};

export const clocks = {
  theatre: 'Saaluhr',
  compared: (time: string, difference: string): string => `${at(time)}: ${difference}`,
  gaps: 'Unterbrechungen des Protokolls',
  gap: (time: string, device: string, n: number): string =>
    `${at(time)} auf ${device} fortgesetzt (Eintrag ${n}); wie viel Zeit vergangen war, wurde nicht bestätigt`,
  jumps: 'Sprünge der Uhr des Geräts',
  jump: (time: string, seconds: number): string =>
    `${at(time)} um ${span(seconds)} ${seconds < 0 ? 'zurück' : 'vor'}; Dauern sind darum bereinigt`,
  noJump: 'kein Sprung steht im Protokoll',
};

export const changes = {
  kinds: {
    strike: 'Streichung',
    addendum: 'Nachtrag',
    correction: 'Berichtigung',
    remark: 'Bemerkung',
    'entry after signing': 'Eintrag nach der Unterschrift',
  },
  late: (text: string): string => `später eingetragen: ${text}`,
  line: (n: number, kind: string, entered: string, of: string | null, by: string | null, what: string): string =>
    `Eintrag ${n}, ${kind}, eingetragen ${entered}${of === null ? '' : `, betrifft ${of}`}, ${by === null ? 'von wem nicht eingetragen' : `von ${by}`}: ${what}`,
  review: (n: number): string => `Eintrag ${n}: außer der Reihe, ohne Wirkung aufgehoben, zur Durchsicht`,
  none: 'Keine Berichtigung und kein Nachtrag steht im Protokoll.',
};

export const sterile = {
  damaged: 'Beschädigt',
  tips: 'Abgebrochene Spitzen',
  tip: (content: Content, id: ToolId, n: number): string => `${capital(tool(content, id))}, Eintrag ${n}`,
  part: 'Gewindeschneider oder Ausdrehkonus und Schraube, die zu trennen sind',
  toPart: (id: string, cameOut: boolean): string =>
    `${screw(id)}: ${cameOut ? 'kam mit dem festsitzenden Werkzeug heraus' : 'ein Werkzeug steckt darin fest'}`,
  restock: 'Ersetzen',
  worn: 'An Metall benutzt oder verbraucht, vor der Rückgabe ansehen (übliche Praxis, ohne Quelle)',
  missing: 'Nicht als im Saal eingetragen, für einen Schritt, der deshalb zu war',
};

export const signature = {
  signed: 'Unterschrieben',
  line: (who: string, role: Role, time: string, meaning: string, n: number): string =>
    `${who}, ${roles[role]}, ${time}: ${meaning} (Eintrag ${n})`,
  standing: (role: Role, { before, since }: Standing): string => {
    const listed = ({ n, role: as, struckBy }: Listing) =>
      `als „${roles[as]}“ in Eintrag ${n}${struckBy === null ? '' : ` (seitdem gestrichen durch Eintrag ${struckBy})`}`;
    if (!before.length)
      return `Name von Hand eingegeben, nicht unter den eingetragenen Personen${since.length ? `; erst danach eingetragen ${and(since.map(listed))}` : ''}`;
    const asOther = before.every((one) => one.role !== role) ? `, nicht als „${roles[role]}“` : '';
    const same = before.length > 1 ? '; ob das dieselbe Person ist, wurde nicht eingetragen' : '';
    return `eingetragen ${and(before.map(listed))}${asOther}${same}`;
  },
  again: (signed: number, entries: number[]): string =>
    `Von der Unterschrift in Eintrag ${signed} nicht gedeckt: ${entries.length === 1 ? 'Eintrag' : 'die Einträge'} ${and(entries.map(String))}, danach eingetragen. EINE NEUE UNTERSCHRIFT IST NÖTIG.`,
  unsigned: 'ENTWURF: nicht unterschrieben. Unterschrift, Name, Datum und Uhrzeit: ______________________________',
};

export const reckoned = {
  signedUnder: (rules: number): string => `Unterschrieben unter den Regeln ${rules}.`,
  title: 'Neu berechnet',
  anew: (rules: number, line: string): string => `Neu berechnet nach den Regeln ${rules}: ${line}`,
  same: 'kein Unterschied',
  asSigned: 'Wie unterschrieben',
  toldAgain: (rules: number, n: number): string =>
    `Was folgt, wurde in Eintrag ${n} unterschrieben, wie es die Regeln ${rules} aus den Einträgen davor ergeben. Darunter steht der Bericht, wie er jetzt lautet.`,
  hash: {
    none: 'Zu den unterschriebenen Worten wurde keine Prüfsumme aufgehoben: Dass es dieselben sind, ist nicht nachzuweisen.',
    same: (hash: string): string =>
      `Die unterschriebenen Worte sind nachgewiesen: Der englische Text aus den Einträgen vor der Unterschrift hat die unterschriebene SHA-256, ${hash}.`,
    other: (hash: string): string =>
      `Die unterschriebenen Worte hatten die SHA-256 ${hash}; diese Fassung des Programms schreibt dieselben Einträge anders und kann sie nicht Wort für Wort wiedergeben.`,
    unknown: (hash: string): string =>
      `Die unterschriebenen Worte hatten die SHA-256 ${hash}; diesem Gerät fehlt, was es zur Prüfung braucht.`,
  },
  tourniquet: (now: string, was: string): string => `Blutsperre ${now}, war ${was}`,
  was: (of: string, now: string, was: string): string => `${of}: ${now}, war ${was}`,
  closes: {
    measured: 'nachgewiesen, gemessen',
    difference: 'nachgewiesen als Differenz',
    assumed: 'als ganz genommen',
    open: 'nicht nachgewiesen',
  },
  notAsked: 'nicht gefragt',
  impossible: (n: number): string => `Eintrag ${n}: ein Ende vor seinem eigenen Anfang`,
};

export const marks = {
  struck: (by: number, reason: string): string => `GESTRICHEN durch Eintrag ${by} (${clean(reason)})`,
  late: (time: string, unasked: boolean): string => `SPÄTER EINGETRAGEN ${at(time)}${unasked ? ', nicht gefragt' : ''}`,
  device: (time: string): string => `GERÄT ${time}`,
  deviceAlone: 'ZEIT WIE VOM GERÄT GEZEIGT: Abstand zur Saaluhr nicht bekannt',
  outOfOrder: 'AUSSER DER REIHE, ohne Wirkung',
  impossible: 'ZEIT KANN NICHT SEIN: ein Ende vor dem eigenen Beginn',
  conflict: (n: number): string => `WIDERSPRICHT Eintrag ${n}: so kann nicht beides stimmen`,
  notOffered: 'ZU DIESER ZEIT NICHT ANGEBOTEN',
  unanswered: (holds: string[]): string => `OHNE ANTWORT: ${and(holds.map(quoted))}`,
  afterSigning: 'NACH DER UNTERSCHRIFT',
  afterClosing: 'NACH DEM ABSCHLUSS',
  moved: (id: string, ns: number[]): string =>
    `EINGETRAGEN FÜR ${screw(id)}, zugeordnet durch Eintrag ${and(ns.map(String))}`,
  version1: 'wer es ansagte und wer es eintrug: nicht eingetragen (Version 1, nicht gefragt)',
};
