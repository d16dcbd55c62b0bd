/**
 * The papers for the patient, the next surgeon and sterile services, in German. What the patient reads is at a reading
 * age of 11 in whole: short sentences, short words (`tests/standards/reading-age.ts`).
 */
import type { Stage } from '../../../../content/ids.ts';
import type { PatientCaution } from '../../../../content/patient-cautions.ts';
import { ranges } from '../../../format/prose.ts';
import type { CountImage, PieceForm, ToolTask } from '../../papers/shapes.ts';
import { and, clean, mm, points as pointWords } from './base.ts';

const bones: Record<string, string> = {
  femur: 'Knochen im Oberschenkel',
  tibia: 'Schienbein',
  fibula: 'Wadenbein',
  humerus: 'Knochen im Oberarm',
  radius: 'Speiche im Unterarm',
  ulna: 'Elle im Unterarm',
  clavicle: 'Schlüsselbein',
  metacarpal: 'Knochen der Hand',
};
const plain = (bone: string, id: string | null) =>
  id !== null && Object.hasOwn(bones, id) ? `${bone}, ${bones[id]}` : bone;

const placeOf = (side: string | null, bone: string, id: string | null, midline: boolean): string =>
  side === null
    ? 'im Knochen (welcher, steht hier nicht)'
    : `im Knochen (${plain(bone, id)}), ${midline ? 'in der MITTE' : side}`;

const named = (ids: readonly string[]) =>
  ids.length === 1 ? `Schraube ${clean(ids[0] as string)}` : `Schrauben ${and(ranges(ids.map(clean)))}`;
const is = (ids: readonly string[]) => (ids.length === 1 ? 'ist' : 'sind');

const stays: Record<Stage, (ids: readonly string[]) => string> = {
  seated: (ids) => `${named(ids)} ${is(ids)} noch drin`,
  'recess-stripped': (ids) => `${named(ids)} ${is(ids)} noch drin`,
  'head-sheared': (ids) => `${named(ids)} ${is(ids)} noch drin, ohne Kopf`,
  'fragment-retained': (ids) => `Ein Stück von ${named(ids)} ist noch drin`,
  out: (ids) => `Ein Stück von ${named(ids)} ist noch drin`,
  'left-in': (ids) => `Ein Stück von ${named(ids)} ist noch drin`,
};

const lengths = {
  measured: (length: number) => `${mm(length)} lang`,
  image: (length: number) => `rund ${mm(length)} lang (vom Bild, nicht am Stück gemessen)`,
  account: (length: number) => `rund ${mm(length)} lang (errechnet, nicht gemessen)`,
  listed: (length: number) => `laut Liste ${mm(length)} lang (nicht gemessen)`,
};

export const patient = {
  place: placeOf,
  /** `known`: of some metal somebody said that it is in; `unsure`: of some nobody knows. */
  tells: (place: string, known: boolean, unsure: boolean): string =>
    `Hier steht, welches Metall ${known ? (unsure ? 'noch drin ist oder sein kann' : 'noch drin ist') : 'noch drin sein kann'}: ${place}.`,
  keep: 'Heben Sie das Blatt gut auf. Zeigen Sie es jedem Arzt, zu dem Sie gehen.',
  allOut: 'Nach diesem Bericht ist alles Metall auf der Liste draußen.',
  notSure: 'Nach diesem Bericht weiß man nicht, ob alles Metall draußen ist.',
  noneListed: 'In diesem Bericht steht kein Metall. Was noch drin ist, hat niemand notiert.',
  notDone: 'Als dieses Blatt entstand, war das Ende der Operation nicht notiert.',
  piece: (form: PieceForm, ids: readonly string[], what: string, stage: Stage | null): string =>
    ({
      screw: () => stays[stage ?? 'left-in'](ids),
      'made-up': () => `Man sagte, dass ein Stück von ${named(ids)} drin bleibt`,
      head: () => `Noch drin: ${what}`,
      'not-ended': () => `Niemand hat notiert, ob ${named(ids)} noch drin ${is(ids)}`,
      short: () => `Man weiß nicht, ob alles von ${named(ids)} draußen ist`,
      tool: () => `Noch drin: ${what}`,
      tip: () => `Brach ab: ${what}`,
      part: () => `Noch drin: ${what}`,
      'part-some': () => `Zum Teil noch drin: ${what}`,
      'part-missing': () => `Nicht gefunden: ${what}`,
      'put-in': () => `Bei dieser Operation neu eingesetzt: ${what}`,
    })[form](),
  toolPiece: (tool: string | null): string => (tool === null ? 'ein Stück Werkzeug' : `ein Stück Werkzeug (${tool})`),
  tip: (tool: string): string => `die Spitze von einem Werkzeug (${tool})`,
  mayBe: 'Es kann noch in Ihnen sein, oder es ist draußen. Das weiß man nicht.',
  madeUp: 'Die Stücke, die man hat, sind so lang wie die Schraube. Wie viel noch drin ist, weiß man nicht.',
  madeOf: (material: string): string => `Das Metall ist ${material}.`,
  madeOfTool: 'Es ist Metall von einem Werkzeug. Welches, hat niemand notiert.',
  madeOfUnknown: 'Woraus es ist, weiß man nicht.',
  madeOfSilent: 'Woraus es ist, hat niemand notiert.',
  size: (
    diameter: number | null,
    length: number | null,
    how: keyof typeof lengths | null,
    isScrew: boolean,
  ): string => {
    const long = length === null || how === null ? null : lengths[how](length);
    if (!isScrew) return long === null ? 'Wie groß es ist, weiß man nicht.' : `Größe: ${long}.`;
    return `Größe: ${diameter === null ? '' : `${mm(diameter)} dick, `}${long ?? 'wie lang, weiß man nicht'}.`;
  },
  where: (words: string): string => `Wo: ${words}.`,
  whereSilent: 'Wo im Knochen es liegt, hat niemand notiert.',
  why: (words: string): string => `Warum es bleibt: ${words}.`,
  whySilent: 'Warum es bleibt, hat niemand notiert.',
  byStop: (words: string): string => `Warum es bleibt: ${words}.`,
  image: {
    yes: 'Als es drin blieb, machte man ein Röntgenbild.',
    no: 'Als es drin blieb, machte man kein Röntgenbild.',
  },
  imageSilent: 'Ob man ein Röntgenbild machte, als es drin blieb, hat niemand notiert.',
  counted: {
    clear: 'Man machte ein Röntgenbild. Darauf war nichts zu sehen.',
    'metal-seen': 'Man machte ein Röntgenbild. Darauf war Metall zu sehen.',
    'not-sure': 'Man machte ein Röntgenbild. Das Team war nicht sicher, was es zeigt.',
    'not-taken': 'Man machte kein Röntgenbild.',
    taken: 'Man machte ein Röntgenbild. Was es zeigt, hat niemand notiert.',
    'not-told': 'Ob man ein Röntgenbild machte, hat niemand notiert.',
  } satisfies Record<CountImage, string>,
  /** Where metal is known to be in as well. */
  clearBesides: 'Man machte ein Röntgenbild. Von dem, was fehlt, war darauf nichts zu sehen.',
  noCount: 'Dass man das Metall zählte, hat niemand notiert.',
  count: 'Als man das Metall zählte',
  foil: (id: string): string => `Metallfolie in ${named([id])}`,
  partUnknown: (names: string[]): string => `Ob das noch drin ist, hat niemand notiert: ${and(names)}`,
  discrepancy: (words: string): string => `Das Team schrieb: ${words}.`,
  contradicted: (ids: string[]): string => `Der Bericht sagt zweierlei von ${named(ids)}. Beides kann nicht stimmen.`,
  titles: {
    stays: 'Für den Patienten',
    means: 'Was das heißt',
    scan: 'Vor einem MRT',
    told: 'Was Ihr Team Ihnen sagt',
    after: 'Die Zeit danach',
    call: 'Wen Sie anrufen, und wann',
    about: 'Über dieses Blatt (für das Team)',
  },
  usual:
    'Der Rat auf diesem Blatt ist der übliche. Er ist nicht für Sie allein gemacht. Was Ihr Team Ihnen sagt, geht vor.',
  cautions: {
    'may-harm':
      'Metall, das drin bleibt, kann sich verschieben. Es kann weh tun, oder die Stelle kann sich entzünden. Fragen Sie Ihr Team, was das für Sie heißt.',
    'next-operation': 'Werden Sie dort noch einmal operiert? Dann zeigen Sie zuerst dieses Blatt.',
    'tell-staff': 'Sagen Sie vor jedem MRT, was hier steht. Zeigen Sie dort dieses Blatt.',
    untested:
      'Was ein MRT mit solchem Metall macht, hat hier niemand geprüft. Das Metall kann sich verschieben oder heiß werden. Für das Team dort: MR-Status nicht beurteilt.',
    'call-when':
      'Rufen Sie an, wenn es mehr weh tut als jetzt, rot wird, anschwillt oder nässt. Auch bei Fieber, oder wenn dort etwas nachgibt.',
  } satisfies Record<PatientCaution, string>,
  fill: ['Name', 'Telefon am Tag', 'Telefon bei Nacht', 'Wann und wo wir Sie sehen', 'Worauf Sie achten'],
  byHand: 'Ihr Team füllt das mit der Hand aus. Ist eine Zeile leer? Fragen Sie danach, bevor Sie gehen.',
  told: (by: string, told: string[]): string => `Das sagte Ihnen ${by}${told.length ? `: ${and(told)}` : ''}.`,
  toBeTold: (by: string, told: string[]): string => `Das sagt Ihnen noch ${by}${told.length ? `: ${and(told)}` : ''}.`,
  toldSilent: 'Was man Ihnen sagte, hat niemand notiert.',
  points: {
    material: 'woraus es ist',
    size: 'wie groß es ist',
    place: 'wo es ist',
    risks: 'was es tun kann',
    mri: 'was beim MRT gilt',
  } satisfies Record<keyof typeof pointWords, string>,
  noAfter: 'Zur Zeit danach steht hier nichts vom Arzt.',
  after: {
    'load-reduced': 'Belasten Sie es erst nur wenig. Wie lange, sagt Ihr Arzt.',
    'new-pain':
      'Tut es neu weh, oder gibt es nach? Dann kommen Sie gleich. Belasten Sie es nicht, bis ein Arzt es sah.',
    'end-of-metal': 'An einem Loch neben der Platte ist der Knochen schwach. Auch dort, wo das Metall aufhört.',
    'forearm-radius':
      'Der Knochen kann wieder brechen. In einer Studie war das 42 bis 121 Tage danach so, bei 7 von 37 Menschen.',
    'forearm-ulna':
      'Der Knochen kann wieder brechen. In einer Studie war das 42 bis 121 Tage danach so, bei 7 von 37 Menschen.',
    'radius-end-of-metal':
      'Bleibt am zweiten Knochen im Arm eine Platte? Dann kann er an ihrem letzten Loch noch spät brechen.',
    'clavicle-early':
      'Der Knochen kann früh wieder brechen. In einer Studie war das im Mittel nach 24 Tagen so. Schonen Sie ihn vom ersten Tag an.',
    'clavicle-women':
      'Hoch ist das Risiko für Frauen nach den Wechseljahren. Auch dann, wenn das Metall kein Jahr drin war.',
    'femur-early':
      'Der Knochen kann ohne Sturz wieder brechen. In einer Studie war das 12 bis 93 Tage danach so, bei 6 von 62 Menschen. Schonen Sie ihn vom ersten Tag an.',
    'femur-lag-hole': 'Die meisten davon brachen durch ein Loch neben der Platte.',
    'hip-nail': 'Ohne den Nagel trägt die Hüfte weniger. In einer Studie trug sie nicht einmal halb so viel.',
    'hip-load': 'Der Hals der Hüfte kann von selbst brechen. Wie viel er trägt, ist nicht klar.',
    'hip-screws':
      'Unter der Hüfte kann der Knochen brechen. In einer Studie war das nach 5 und 7 Wochen so, bei 2 von 27 Menschen.',
    'child-femur':
      'Der Knochen kann an der alten Stelle wieder brechen. In einer Studie war das bei 3 von 35 Kindern so.',
    'child-radius': 'Der Knochen kann wieder brechen. In einer Studie war das bei 11 von 267 Kindern so.',
    'child-ulna': 'Der Knochen kann wieder brechen. In einer Studie war das bei 11 von 267 Kindern so.',
    'tibia-unknown': 'Wie oft der Knochen wieder bricht, weiß man nicht.',
    'humerus-unknown': 'Wie oft der Knochen wieder bricht, weiß man nicht.',
  } as Record<string, string>,
  statuses: {
    draft: 'ENTWURF, nicht unterschrieben',
    signed: 'Unterschrieben',
    amended: 'Nach der Unterschrift ergänzt',
  },
  about: (label: string, day: string | null, status: string, seal: string | null): string[] => [
    `Fall: ${label}.`,
    day === null ? 'Den Tag der Operation hat niemand notiert.' : `Operiert am ${day}.`,
    `${status}.`,
    ...(seal === null ? [] : [`Letztes Siegel: ${seal}.`]),
  ],
  end: (version: string): string =>
    `Hier steht, was man im OP notiert hat. Was Ihr Team sagt, zählt mehr. Kein zertifiziertes Medizinprodukt. Inhalt, Fassung ${version}.`,
};

export const surgeon = {
  title: (side: string | null, bone: string, draft: boolean): string =>
    `Für den nächsten Operateur: ${side === null ? 'Seite nicht eingetragen' : `${bone} ${side}`}${draft ? ' (ENTWURF)' : ''}`,
  titles: {
    stays: 'Was drin ist oder sein kann',
    out: 'Was herauskam',
    after: 'Die Zeit danach',
    scan: 'MRT',
    code: 'Pass',
    about: 'Über dieses Blatt',
  },
  nothing: 'Nichts ist als noch drin eingetragen.',
  unknownPart: (names: string[]): string => `Ob es herauskam, wurde nicht eingetragen: ${and(names)}.`,
  out: (names: string, how: string): string => `${names}: ${how}`,
  lastBy: (label: string, tries: number): string => `${label}${tries > 1 ? `, nach ${tries} Versuchen insgesamt` : ''}`,
  noMove: 'kein Schritt ist eingetragen',
  tried: 'Was versucht wurde, der Reihe nach:',
  notTried: 'Was versucht wurde: Kein Schritt ist eingetragen.',
  next: (stage: string): string =>
    `Was von diesem Stand aus (${stage}) gebraucht würde, nach den Regeln dieses Werkzeugs; kein Rat:`,
  noWay: (stage: string): string =>
    `Was von diesem Stand aus (${stage}) gebraucht würde: Nach den Regeln dieses Werkzeugs ist kein Weg bekannt.`,
  fewest: (tools: string): string => `Die wenigsten Werkzeuge, die einen dieser Wege öffnen: ${tools}.`,
  unseen: 'Ein Schritt, der etwas braucht, was niemand notiert hat, etwa eine überstehende Spitze, steht nicht dabei.',
  matchedDriver: (facts: string | null): string => `passender Schraubendreher${facts === null ? '' : ` (${facts})`}`,
  otherDriver: 'größerer oder anderer Schraubendreher',
  forScrews: (tool: string, diameter: number): string => `${tool} für Schrauben von ${mm(diameter)}`,
  wider: (tool: string, diameter: number): string => `${tool}, innen weiter als ${mm(diameter)}`,
  boneThen: 'Damals',
  boneNow: 'Schätzung jetzt (errechnet, seither hat niemand gemessen)',
  boneUnknown: 'nicht eingetragen',
  code: 'Platz für den Code eines Metallpasses: hier aufkleben oder aufdrucken',
  screws: (ids: readonly string[]): string => named(ids),
  each: (ids: readonly string[]): string => (ids.length === 1 ? named(ids) : `${named(ids)}, jede`),
};

export const tools = {
  title: 'Werkzeug nach diesem Fall',
  head: ['Instrument', 'Größe', 'Was geschah', 'Was zu tun ist'],
  slipped: 'abgerutscht',
  broke: 'abgebrochen',
  jammed: 'steckt in der Schraube fest',
  outJammed: 'kam in der Schraube fest mit heraus',
  cutMetal: 'an Metall benutzt',
  usedUp: 'in den Antrieb gepackt, verbraucht',
  gone: 'als nicht mehr im Saal eingetragen',
  tipMissing: (length: number | null, how: 'measured' | 'image' | 'difference' | undefined): string =>
    `die Spitze fehlt${length === null ? '' : ` (${mm(length)}${how === undefined || how === 'measured' ? '' : ', nicht gemessen'})`}`,
  kept: 'aufbewahrt',
  tip: (entry: number, found: boolean): string =>
    `Spitze abgebrochen (Eintrag ${entry}): ${found ? 'nachgewiesen' : 'NICHT NACHGEWIESEN'}`,
  oneOf: (sizes: string): string => `${sizes}: Welche, wurde nicht eingetragen`,
  someDriver: 'Schraubendreher, welcher nicht eingetragen',
  unnamed: (move: string): string => `Welches, nicht eingetragen (${move})`,
  tasks: {
    part: 'von der Schraube trennen',
    replace: 'ersetzen',
    sharpen: 'schärfen oder ersetzen',
    'look-at': 'ansehen',
  } satisfies Record<ToolTask, string>,
  basis:
    'Was geschah, steht im Protokoll. Was zu tun ist, ist übliche Praxis, ohne Quelle; Ihre Abteilung und der Hersteller entscheiden.',
  none: 'Von keinem Instrument wurde etwas notiert.',
};
