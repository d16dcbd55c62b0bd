/** What the forms of the note add to it, in English. */
import { and, count } from './base.ts';

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
  event: 'operation on metalwork',
  software: 'Counterturn, theatre log',
  softwareType: 'software that keeps the log in theatre',
  version: (version: string): string => `content ${version}`,
  patient: 'Patient: not recorded.',
  composer: 'program that the record was entered in',
  enterer: 'entered by',
  informant: 'called by',
  attester: 'signed by',
  undated:
    'The log holds no entry and so no time: the date of this document, 1 January 1970, stands for none, since the format demands one.',
  listed: (who: string, role: string, entries: number[]): string =>
    entries.length > 1
      ? `${who}, ${role}: listed in entries ${and(entries.map(String))}; whether that is one person was not recorded.`
      : `${who}, ${role}: listed in entry ${entries[0]}.`,
  signer: (who: string, role: string, standing: string): string => `${who}, signed as ${role}; ${standing}`,
  told: (n: number, text: string): string => `Entry ${n} of the log: ${text}`,
  signedText: (hash: string): string => `Text of the record in English before this signature, SHA-256 ${hash}`,
  noReason: 'reason not recorded',
  removal: (construct: string, site: string): string => `Removal of metalwork (${construct}) from ${site}`,
  'put-in': (construct: string, site: string): string => `Putting in of metalwork (${construct}), ${site}`,
  plannedNote: (planned: string): string => `Planned: ${planned}`,
  writtenNote: (text: string): string => `Procedure, as the team wrote it: ${text}`,
  noBeginning: 'That work had begun was not recorded',
  onPart: (move: string, part: string): string => `${move}: ${part}`,
  log: (entries: number, seals: string): string => `Log of ${count(entries, 'entry', 'entries')}; ${seals}`,
  sealBroken: (at: number | null): string => `seal broken at entry ${at ?? 'not known'}`,
  seals: (state: 'whole' | 'unsealed' | 'broken'): string => `seals: ${state}`,
  lastSeal: (seal: string): string => `last seal ${seal}`,
  sealTail: 'the seal shows damage and edits, it does not stop a forger who seals anew',
  entryOf: (n: number): string => `Entry ${n} of the log`,
  material: 'material',
  listedDiameter: 'diameter, as listed',
  listedLength: 'length, as listed',
  measuredLength: 'length, measured',
  reckonedLength: 'length, not measured: from an image, as listed or by difference',
  whereUnknown: 'Whether it is in or out is not known.',
  tool: 'surgical instrument',
  partPiece: 'piece of a part of the metalwork',
  materials: { steel: 'steel', titanium: 'titanium', 'cobalt-chromium': 'cobalt-chromium', unknown: 'unknown' },
  boneScrew: 'bone screw',
  screw: (id: string): string => `Screw ${id}`,
  toolPiece: 'piece of a tool',
  part: 'part of the metalwork',
  screwPiece: 'bone screw or piece of one',
  pieceNote: (size: string): string => `Size: ${size}. MR status not assessed.`,
  image: (text: string): string => `Image: ${text}`,
  decidedBy: (text: string): string => `decided by: ${text}`,
  toldTo: (text: string): string => `told to: ${text}`,
  place: (text: string): string => `lies by estimate: ${text}`,
  noMr: 'MR status not assessed',
  site: (side: string, bone: string): string => `${side} ${bone}`,
  where: (site: string, where: string): string => `${site}; where: ${where}`,
  at: (site: string, screw: string): string => `${site}; screw ${screw}`,
  brokenOff: 'broken off',
  unknownEnd: 'how it ended was not recorded',
};
