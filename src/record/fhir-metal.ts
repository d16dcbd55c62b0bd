/** The metal and the tools as FHIR R4 resources: what is in, what is out, and what nobody knows of. */
import type { Device, DeviceUseStatement } from 'fhir/r4';
import type { ToolId } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import { instant, millimetres, rowsIn, siteOf, words, type Shelf } from './fhir-parts.ts';
import { isSaidToStay, type CaseRecord, type RecordFacts, type ScrewFate, type StillIn } from './model.ts';
import { isPartly } from './part-facts.ts';
import type { PartFate } from './part-fate.ts';
import { sentence, some } from '../format/prose.ts';

export const screwKey = (id: string): string => `screw:${id}`;
export const toolKey = (id: ToolId): string => `tool:${id}`;

/** Of metal in R4's words: implanted, removed, or not determined. */
export type Whereabouts = NonNullable<Device['status']>;

/** The part that is a screw put in today. */
const putInAs = (facts: RecordFacts, id: string): PartFate | undefined =>
  facts.parts.find(({ screw, end }) => screw === id && end === 'put-in');

/** Where a screw is: `active` it stays, in whole or in part; `inactive` it is out; `unknown` as long as nobody said. */
export function screwStatus(facts: RecordFacts, fate: ScrewFate): Whereabouts {
  const pieces = facts.stillIn.filter(({ screw }) => screw === fate.id);
  if (!pieces.every(isSaidToStay)) return 'unknown';
  if (pieces.length || putInAs(facts, fate.id)) return 'active';
  return (fate.foundAfter?.what ?? fate.stage) === 'out' ? 'inactive' : 'unknown';
}

/** Where plate, nail or another part is. */
export function partStatus(part: PartFate): Whereabouts {
  if (part.end === 'out') return part.closes === null || isPartly(part) ? 'unknown' : 'inactive';
  return part.end === 'left-in' || part.end === 'put-in' ? 'active' : 'unknown';
}

/** The resource of a part: of a screw put in today that was listed since, the screw's. */
export function partKey(facts: RecordFacts, id: string): string {
  const screw = facts.parts.find((part) => part.id === id)?.screw ?? null;
  return screw !== null && facts.screws.some((fate) => fate.id === screw) ? screwKey(screw) : `part:${id}`;
}

/** Did it stay as it was listed? Its own resource stands for it then. */
function wholeKey(facts: RecordFacts, piece: StillIn): string | null {
  if (piece.part !== null) {
    const part = facts.parts.find(({ id }) => id === piece.part);
    return part && (piece.kind === 'unaccounted' || !isPartly(part)) ? partKey(facts, piece.part) : null;
  }
  const fate = facts.screws.find(({ id }) => id === piece.screw);
  const stage = fate && (fate.leftFrom ?? fate.stage);
  const isWhole = piece.kind !== 'unaccounted' && (stage === 'seated' || stage === 'recess-stripped');
  return fate && isWhole ? screwKey(fate.id) : null;
}

const pieceKey = (facts: RecordFacts, index: number): string =>
  wholeKey(facts, facts.stillIn[index] as StillIn) ?? `piece:${index}`;

const property = (name: string, length: number | null) =>
  length === null || length <= 0 ? [] : [{ type: words(name), valueQuantity: [millimetres(length)] }];

function addScrew(shelf: Shelf, facts: RecordFacts, fate: ScrewFate): void {
  const names = shelf.locale.forms.fhir;
  const status = screwStatus(facts, fate);
  const own = facts.stillIn.filter((piece) => wholeKey(facts, piece) === screwKey(fate.id));
  shelf.add(screwKey(fate.id), {
    resourceType: 'Device',
    status,
    type: words(names.boneScrew),
    deviceName: [{ name: names.screw(fate.id), type: 'user-friendly-name' }],
    property: [
      { type: words(names.material), valueCode: [words(names.materials[fate.material])] },
      ...property(names.listedDiameter, fate.diameter),
      ...property(names.listedLength, fate.length),
    ],
    patient: shelf.refer('patient', shelf.locale.notRecorded),
    note: [
      sentence(fate.description),
      ...own.map(({ size }) => names.pieceNote(size)),
      ...unknownNote(shelf, status),
    ].map((text) => ({ text })),
  });
}

const unknownNote = ({ locale }: Shelf, status: Whereabouts): string[] =>
  status === 'unknown' ? [locale.forms.fhir.whereUnknown] : [];

function addPart(shelf: Shelf, facts: RecordFacts, part: PartFate): void {
  const names = shelf.locale.forms.fhir;
  const status = partStatus(part);
  const own = facts.stillIn.filter((piece) => wholeKey(facts, piece) === `part:${part.id}`);
  const notes = [...own.map(({ size }) => names.pieceNote(size)), ...unknownNote(shelf, status)];
  const properties = property(names.listedLength, part.length);
  shelf.add(`part:${part.id}`, {
    resourceType: 'Device',
    status,
    type: words(names.part),
    deviceName: [{ name: sentence(`${part.name} (${part.what})`).slice(0, -1), type: 'user-friendly-name' }],
    ...(properties.length && { property: properties }),
    patient: shelf.refer('patient', shelf.locale.notRecorded),
    ...(notes.length && { note: notes.map((text) => ({ text })) }),
  });
}

function addPiece(shelf: Shelf, facts: RecordFacts, piece: StillIn, name: string): void {
  const names = shelf.locale.forms.fhir;
  const status = isSaidToStay(piece) ? 'active' : 'unknown';
  const parent =
    piece.screw !== null
      ? screwKey(piece.screw)
      : piece.part !== null
        ? partKey(facts, piece.part)
        : piece.tool !== null
          ? toolKey(piece.tool)
          : null;
  shelf.add(name, {
    resourceType: 'Device',
    status,
    type: words(piece.part !== null ? names.partPiece : piece.screw === null ? names.toolPiece : names.screwPiece),
    deviceName: [{ name: piece.what, type: 'user-friendly-name' }],
    property: [
      { type: words(names.material), valueCode: [words(piece.material)] },
      ...property(piece.measured ? names.measuredLength : names.reckonedLength, piece.length),
    ],
    patient: shelf.refer('patient', shelf.locale.notRecorded),
    ...(parent !== null && { parent: shelf.refer(parent) }),
    note: [names.pieceNote(piece.size), ...unknownNote(shelf, status)].map((text) => ({ text })),
  });
}

function addUse(shelf: Shelf, record: CaseRecord, piece: StillIn, index: number): void {
  const names = shelf.locale.forms.fhir;
  const { facts } = record;
  const row = rowsIn(record).find(({ n }) => n === piece.entry);
  const told = some(
    piece.what,
    names.image(piece.image),
    names.decidedBy(piece.decidedBy),
    names.toldTo(piece.told),
    piece.place !== null && names.place(piece.place),
    names.noMr,
  );
  const statement: DeviceUseStatement = {
    resourceType: 'DeviceUseStatement',
    status: 'active',
    subject: shelf.refer('patient', shelf.locale.notRecorded),
    device: shelf.refer(pieceKey(facts, index)),
    // Since when metal that stays has been in, nobody entered; of metal put in today it is its time.
    ...(piece.kind === 'put-in' && piece.at !== null && { timingPeriod: { start: instant(piece.at) } }),
    ...(row && { recordedOn: instant(row.logged) }),
    bodySite: words(names.where(siteOf(shelf, facts), piece.where)),
    reasonCode: [words(piece.why)],
    note: [{ text: sentence(told.join('; ')) }],
  };
  shelf.add(`use:${index}`, statement);
}

/** Names of the resources of one record's metal and tools, by the section that refers to them. */
export interface MetalKeys {
  screws: string[];
  parts: string[];
  tools: string[];
  stays: string[];
}

/** Tools named in a move on a screw or a part, and those of which a piece is still in. */
function toolsOf({ screws, operation, stillIn }: RecordFacts): ToolId[] {
  const named = screws.flatMap(({ attempts }) => attempts.flatMap(({ tool }) => tool ?? []));
  return [
    ...new Set([
      ...named,
      ...operation.partMoves.flatMap(({ tool }) => tool ?? []),
      ...stillIn.flatMap(({ tool }) => tool ?? []),
    ]),
  ];
}

/** Every listed screw and part, every piece that is still in or not accounted for, and every tool that was named. */
export function addMetal(shelf: Shelf, record: CaseRecord, content: Content): MetalKeys {
  const { facts } = record;
  const names = shelf.locale.forms.fhir;
  for (const fate of facts.screws) addScrew(shelf, facts, fate);
  const parts = facts.parts.filter(({ id }) => partKey(facts, id) === `part:${id}`);
  for (const part of parts) addPart(shelf, facts, part);
  const tools = toolsOf(facts);
  for (const tool of tools)
    shelf.add(toolKey(tool), {
      resourceType: 'Device',
      type: words(names.tool),
      deviceName: [{ name: shelf.locale.tool(content, tool), type: 'user-friendly-name' }],
    });
  const stays = facts.stillIn.flatMap((piece, index) => {
    const name = pieceKey(facts, index);
    if (name === `piece:${index}`) addPiece(shelf, facts, piece, name);
    if (!isSaidToStay(piece)) return [name];
    addUse(shelf, record, piece, index);
    return [name, `use:${index}`];
  });
  return {
    screws: facts.screws.map(({ id }) => screwKey(id)),
    parts: parts.map(({ id }) => `part:${id}`),
    tools: tools.map(toolKey),
    stays: [...new Set(stays)],
  };
}
