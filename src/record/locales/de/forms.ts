/** What the forms of the note add to it, in German. */
import { count } from './base.ts';

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
  event: 'Metallentfernung',
  software: 'Counterturn, Protokoll im OP',
  softwareType: 'Software, die das Protokoll im OP führt',
  version: (version: string): string => `Inhalt ${version}`,
  patient: 'Patient: nicht eingetragen.',
  author: 'Verfasser',
  enterer: 'Eintragende Person',
  log: (entries: number, seals: string): string => `Protokoll, ${count(entries, 'Eintrag', 'Einträge')}; ${seals}`,
  sealBroken: (at: number | null): string => `Siegel gebrochen bei Eintrag ${at ?? 'unbekannt'}`,
  seals: (state: 'whole' | 'unsealed' | 'broken'): string =>
    `Siegel: ${{ whole: 'unversehrt', unsealed: 'unversiegelt', broken: 'gebrochen' }[state]}`,
  lastSeal: (seal: string): string => `letztes Siegel ${seal}`,
  sealTail: 'das Siegel zeigt Schäden und Änderungen, es hält keinen Fälscher auf, der neu versiegelt',
  entryOf: (n: number, kind: string): string => `Eintrag ${n} des Protokolls, ${kind}`,
  material: 'Material',
  diameter: 'Durchmesser',
  length: 'Länge',
  materials: { steel: 'Stahl', titanium: 'Titan', 'cobalt-chromium': 'Kobalt-Chrom', unknown: 'unbekannt' },
  boneScrew: 'Knochenschraube',
  screw: (id: string): string => `Schraube ${id}`,
  toolPiece: 'Stück eines Werkzeugs',
  part: 'Teil des Metalls',
  screwPiece: 'Knochenschraube oder ein Stück davon',
  pieceNote: (size: string): string => `Größe: ${size}. MR-Status nicht beurteilt.`,
  image: (text: string): string => `Röntgenbild: ${text}`,
  decidedBy: (text: string): string => `entschieden von: ${text}`,
  told: (text: string): string => `gesagt zu: ${text}`,
  place: (text: string): string => `liegt nach Schätzung: ${text}`,
  noMr: 'MR-Status nicht beurteilt',
  site: (side: string, bone: string): string => `${bone} ${side}`,
  where: (site: string, where: string): string => `${site}; wo: ${where}`,
  at: (site: string, screw: string): string => `${site}; Schraube ${screw}`,
  planned: (planned: string): string => `Metallentfernung; geplant: ${planned}`,
  brokenOff: 'abgebrochen',
  unknownEnd: 'wie es endete, wurde nicht eingetragen',
};
