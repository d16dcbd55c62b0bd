/** What the forms of the note add to it, in English. */
import { count } from './base.ts';

export const inAll = (entries: number): string => `${count(entries, 'entry', 'entries')} in all.`;
export const columns = { time: 'Time', entry: 'Entry', happened: 'What happened' };
export const entry = (n: number): string => `entry ${n}`;

/** Sections of the FHIR document that are items of the note. */
export const fhirSections = {
  planned: 'Procedure planned',
  procedure: 'Procedure carried out',
  indication: 'Indication',
  diagnosis: 'Diagnosis before operation',
  'post-op-diagnosis': 'Diagnosis after operation',
  anaesthesia: 'Anaesthesia',
  findings: 'Findings',
  complications: 'Problems and complications',
  'blood-loss': 'Blood loss',
  specimens: 'Specimens',
  implants: 'Implants taken out and left',
  drains: 'Drains',
  instructions: 'Instructions after operation',
  timeline: 'Description: timeline',
  description: 'Procedure description',
};

export const fhir = {
  note: 'Surgical operation note',
  event: 'removal of metalwork',
  software: 'Counterturn, theatre log',
  softwareType: 'software that keeps the log in theatre',
  version: (version: string): string => `content ${version}`,
  patient: 'Patient: not recorded.',
  author: 'author',
  enterer: 'enterer',
  log: (entries: number, seals: string): string => `Log of ${count(entries, 'entry', 'entries')}; ${seals}`,
  sealBroken: (at: number | null): string => `seal broken at entry ${at ?? 'not known'}`,
  seals: (state: 'whole' | 'unsealed' | 'broken'): string => `seals: ${state}`,
  lastSeal: (seal: string): string => `last seal ${seal}`,
  sealTail: 'the seal shows damage and edits, it does not stop a forger who seals anew',
  entryOf: (n: number, kind: string): string => `Entry ${n} of the log, ${kind}`,
  material: 'material',
  diameter: 'diameter',
  length: 'length',
  materials: { steel: 'steel', titanium: 'titanium', 'cobalt-chromium': 'cobalt-chromium', unknown: 'unknown' },
  boneScrew: 'bone screw',
  screw: (id: string): string => `Screw ${id}`,
  toolPiece: 'piece of a tool',
  part: 'part of the metalwork',
  screwPiece: 'bone screw or piece of one',
  pieceNote: (size: string): string => `Size: ${size}. MR status not assessed.`,
  image: (text: string): string => `Image: ${text}`,
  decidedBy: (text: string): string => `decided by: ${text}`,
  told: (text: string): string => `told to: ${text}`,
  place: (text: string): string => `lies by estimate: ${text}`,
  noMr: 'MR status not assessed',
  site: (side: string, bone: string): string => `${side} ${bone}`,
  where: (site: string, where: string): string => `${site}; where: ${where}`,
  at: (site: string, screw: string): string => `${site}; screw ${screw}`,
  planned: (planned: string): string => `Removal of metalwork; planned: ${planned}`,
  brokenOff: 'broken off',
  unknownEnd: 'how it ended was not recorded',
};
