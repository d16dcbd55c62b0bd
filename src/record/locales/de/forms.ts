/** What the forms of the note add to it, in German. */
import { and, count } from './base.ts';

export const inAll = (entries: number): string => `Insgesamt ${count(entries, 'Eintrag', 'Einträge')}.`;
export const columns = { time: 'Zeit', entry: 'Eintrag', happened: 'Was geschah' };
export const entry = (n: number): string => `Eintrag ${n}`;

export const fhirSections = {
  planned: 'Geplanter Eingriff',
  procedure: 'Durchgeführter Eingriff',
  indication: 'Indikation',
  diagnosis: 'Diagnose vor der Operation',
  'post-op-diagnosis': 'Diagnose nach der Operation',
  anaesthesia: 'Anästhesie',
  findings: 'Befund',
  complications: 'Probleme und Komplikationen',
  'blood-loss': 'Blutverlust',
  specimens: 'Proben',
  implants: 'Entfernte und belassene Implantate',
  drains: 'Drainagen',
  instructions: 'Nachbehandlung',
  timeline: 'Beschreibung: Verlauf',
  description: 'Beschreibung des Eingriffs',
};

export const fhir = {
  note: 'OP-Bericht',
  event: 'Operation an Metall',
  software: 'Counterturn, Protokoll im OP',
  softwareType: 'Software, die das Protokoll im OP führt',
  version: (version: string): string => `Inhalt ${version}`,
  patient: 'Patient: nicht eingetragen.',
  composer: 'Programm, in das eingetragen wurde',
  enterer: 'eingetragen von',
  informant: 'angesagt von',
  attester: 'unterschrieben von',
  undated:
    'Das Protokoll hat keinen Eintrag und damit keine Zeit: Das Datum dieses Dokuments, der 1. Januar 1970, steht für keines, weil das Format eines verlangt.',
  listed: (who: string, role: string, entries: number[]): string =>
    entries.length > 1
      ? `${who}, ${role}: eingetragen in den Einträgen ${and(entries.map(String))}; ob das dieselbe Person ist, wurde nicht eingetragen.`
      : `${who}, ${role}: eingetragen in Eintrag ${entries[0]}.`,
  signer: (who: string, role: string, standing: string): string => `${who}, unterschrieben als ${role}; ${standing}`,
  told: (n: number, text: string): string => `Eintrag ${n} des Protokolls: ${text}`,
  signedText: (hash: string): string => `Text des Berichts auf Englisch vor dieser Unterschrift, SHA-256 ${hash}`,
  noReason: 'Grund nicht eingetragen',
  removal: (construct: string, site: string): string => `Metallentfernung (${construct}), ${site}`,
  'put-in': (construct: string, site: string): string => `Einbringen von Metall (${construct}), ${site}`,
  plannedNote: (planned: string): string => `Geplant: ${planned}`,
  writtenNote: (text: string): string => `Eingriff, wie das Team ihn schrieb: ${text}`,
  noBeginning: 'Dass die Arbeit begonnen hatte, wurde nicht eingetragen',
  onPart: (move: string, part: string): string => `${move}: ${part}`,
  log: (entries: number, seals: string): string => `Protokoll, ${count(entries, 'Eintrag', 'Einträge')}; ${seals}`,
  sealBroken: (at: number | null): string => `Siegel gebrochen bei Eintrag ${at ?? 'unbekannt'}`,
  seals: (state: 'whole' | 'unsealed' | 'broken'): string =>
    `Siegel: ${{ whole: 'unversehrt', unsealed: 'unversiegelt', broken: 'gebrochen' }[state]}`,
  lastSeal: (seal: string): string => `letztes Siegel ${seal}`,
  sealTail: 'das Siegel zeigt Schäden und Änderungen, es hält keinen Fälscher auf, der neu versiegelt',
  entryOf: (n: number): string => `Eintrag ${n} des Protokolls`,
  material: 'Material',
  listedDiameter: 'Durchmesser, wie eingetragen',
  listedLength: 'Länge, wie eingetragen',
  measuredLength: 'Länge, gemessen',
  reckonedLength: 'Länge, nicht gemessen: nach einem Bild, wie eingetragen oder aus der Differenz',
  whereUnknown: 'Ob es drin oder draußen ist, ist nicht bekannt.',
  tool: 'OP-Instrument',
  partPiece: 'Stück eines Teils des Metalls',
  materials: { steel: 'Stahl', titanium: 'Titan', 'cobalt-chromium': 'Kobalt-Chrom', unknown: 'unbekannt' },
  boneScrew: 'Knochenschraube',
  screw: (id: string): string => `Schraube ${id}`,
  toolPiece: 'Stück eines Werkzeugs',
  part: 'Teil des Metalls',
  screwPiece: 'Knochenschraube oder ein Stück davon',
  pieceNote: (size: string): string => `Größe: ${size}. MR-Status nicht beurteilt.`,
  image: (text: string): string => `Röntgenbild: ${text}`,
  decidedBy: (text: string): string => `entschieden von: ${text}`,
  toldTo: (text: string): string => `gesagt zu: ${text}`,
  place: (text: string): string => `liegt nach Schätzung: ${text}`,
  noMr: 'MR-Status nicht beurteilt',
  site: (side: string, bone: string): string => `${bone} ${side}`,
  where: (site: string, where: string): string => `${site}; wo: ${where}`,
  at: (site: string, screw: string): string => `${site}; Schraube ${screw}`,
  brokenOff: 'abgebrochen',
  unknownEnd: 'wie es endete, wurde nicht eingetragen',
};
