/** The operation, its steps and its metal as FHIR R4 resources. Codes of open systems only, words elsewhere. */
import type { Device, DeviceUseStatement, Procedure, ProcedurePerformer } from 'fhir/r4';
import type { Content } from '../../content/types.ts';
import { deviceAction, instant, millimetres, period, words, type Shelf } from './fhir-parts.ts';
import type { Attempt, CaseRecord, RecordFacts, ScrewFate, StillIn } from './model.ts';
import { sentence, some } from '../format/prose.ts';

export const personName = (role: string, who: string): string => `person:${role}:${who}`;
const screwKey = (id: string) => `screw:${id}`;
const siteOf = ({ locale }: Shelf, { side, bone }: RecordFacts) =>
  side === bone ? side : locale.forms.fhir.site(side, bone);

function properties(
  { locale }: Shelf,
  length: number | null,
  diameter: number | null,
  material: string,
): Device['property'] {
  const names = locale.forms.fhir;
  return [
    { type: words(names.material), valueCode: [words(material)] },
    ...(diameter === null ? [] : [{ type: words(names.diameter), valueQuantity: [millimetres(diameter)] }]),
    ...(length === null ? [] : [{ type: words(names.length), valueQuantity: [millimetres(Math.abs(length))] }]),
  ];
}

/** Every listed screw, and every piece that is still in or not accounted for. */
export function addDevices(shelf: Shelf, { facts }: CaseRecord): string[] {
  const patient = shelf.refer('patient', shelf.locale.notRecorded);
  const names = shelf.locale.forms.fhir;
  for (const fate of facts.screws)
    shelf.add(screwKey(fate.id), {
      resourceType: 'Device',
      status: (fate.foundAfter?.what ?? fate.stage) === 'out' ? 'inactive' : 'active',
      type: words(names.boneScrew),
      deviceName: [{ name: names.screw(fate.id), type: 'user-friendly-name' }],
      property: properties(shelf, fate.length, fate.diameter, names.materials[fate.material]),
      patient,
      note: [{ text: sentence(fate.description) }],
    });
  return facts.stillIn.flatMap((piece, index) => {
    const name = `piece:${index}`;
    shelf.add(name, pieceDevice(shelf, piece));
    if (piece.kind === 'unaccounted') return [name];
    shelf.add(`use:${index}`, useOf(shelf, facts, piece, name));
    return [name, `use:${index}`];
  });
}

function pieceDevice(shelf: Shelf, piece: StillIn): Device {
  const names = shelf.locale.forms.fhir;
  return {
    resourceType: 'Device',
    status: piece.kind === 'unaccounted' ? 'unknown' : 'active',
    type: words(piece.part !== null ? names.part : piece.screw === null ? names.toolPiece : names.screwPiece),
    deviceName: [{ name: piece.what, type: 'user-friendly-name' }],
    property: properties(shelf, piece.length, null, piece.material),
    patient: shelf.refer('patient', shelf.locale.notRecorded),
    ...(piece.screw !== null && { parent: shelf.refer(screwKey(piece.screw)) }),
    note: [{ text: names.pieceNote(piece.size) }],
  };
}

function useOf(shelf: Shelf, facts: RecordFacts, piece: StillIn, device: string): DeviceUseStatement {
  const names = shelf.locale.forms.fhir;
  const told = some(
    names.image(piece.image),
    names.decidedBy(piece.decidedBy),
    names.told(piece.told),
    piece.place !== null && names.place(piece.place),
    names.noMr,
  );
  return {
    resourceType: 'DeviceUseStatement',
    status: 'active',
    subject: shelf.refer('patient', shelf.locale.notRecorded),
    device: shelf.refer(device),
    ...(piece.at !== null && { timingDateTime: instant(piece.at) }),
    ...(facts.lastLogged !== null && { recordedOn: instant(facts.lastLogged) }),
    bodySite: words(names.where(siteOf(shelf, facts), piece.where)),
    reasonCode: [words(piece.why)],
    note: [{ text: sentence(told.join('; ')) }],
  };
}

/** The operation as a whole. `procedure`, `outcome` and `complications` in words, empty when not recorded. */
export function addOperation(
  shelf: Shelf,
  { facts }: CaseRecord,
  texts: Record<'procedure' | 'outcome' | 'complications', string>,
): void {
  const performed = period(facts.started, facts.ended);
  const performer = facts.people.map(({ role, who }): ProcedurePerformer => ({
    function: words(shelf.locale.roles[role]),
    actor: shelf.refer(personName(role, who), who),
  }));
  const focalDevice = facts.screws.map(({ id, stage }) => ({
    action: deviceAction(stage === 'out' ? 'explanted' : 'manipulated'),
    manipulated: shelf.refer(screwKey(id)),
  }));
  shelf.add('operation', {
    resourceType: 'Procedure',
    status: facts.isClosed ? 'completed' : facts.started === null ? 'preparation' : 'in-progress',
    code: words(texts.procedure || shelf.locale.forms.fhir.planned(facts.planned)),
    subject: shelf.refer('patient', shelf.locale.notRecorded),
    bodySite: [words(siteOf(shelf, facts))],
    ...(performed && { performedPeriod: performed }),
    ...(performer.length && { performer }),
    ...(texts.outcome && { outcome: words(texts.outcome) }),
    ...(texts.complications && { complication: [words(texts.complications)] }),
    ...(focalDevice.length && { focalDevice }),
  });
}

/** One Procedure for each move, part of the operation. */
export function addSteps(shelf: Shelf, { facts }: CaseRecord, content: Content): string[] {
  return facts.screws.flatMap((fate) => fate.attempts.map((attempt) => addStep(shelf, facts, content, fate, attempt)));
}

function addStep(shelf: Shelf, facts: RecordFacts, content: Content, fate: ScrewFate, attempt: Attempt): string {
  const name = `step:${attempt.n}`;
  const { outcome, gained, endedBy } = attempt;
  const how = outcome
    ? shelf.locale.entries.outcome(content, fate.id, outcome, attempt)
    : attempt.interrupted
      ? shelf.locale.forms.fhir.brokenOff
      : shelf.locale.forms.fhir.unknownEnd;
  const status: Procedure['status'] =
    endedBy === null
      ? facts.isClosed
        ? 'unknown'
        : 'in-progress'
      : attempt.interrupted
        ? 'stopped'
        : outcome === null
          ? 'unknown'
          : gained
            ? 'completed'
            : 'stopped';
  const performed = period(attempt.from, attempt.to);
  shelf.add(name, {
    resourceType: 'Procedure',
    partOf: [shelf.refer('operation')],
    status,
    ...(status === 'stopped' && { statusReason: words(sentence(how)) }),
    code: words(content.phrases.moves[attempt.move].label),
    subject: shelf.refer('patient', shelf.locale.notRecorded),
    ...(performed && { performedPeriod: performed }),
    bodySite: [words(shelf.locale.forms.fhir.at(siteOf(shelf, facts), fate.id))],
    outcome: words(sentence(how)),
    focalDevice: [
      {
        action: deviceAction(outcome === 'out' ? 'explanted' : 'manipulated'),
        manipulated: shelf.refer(screwKey(fate.id)),
      },
    ],
    ...(attempt.tool && { usedCode: [words(shelf.locale.tool(content, attempt.tool))] }),
  });
  return name;
}
