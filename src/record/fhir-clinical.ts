/** The operation and its steps as FHIR R4 resources. Codes of open systems only, words elsewhere. */
import type { Procedure, ProcedureFocalDevice, ProcedurePerformer } from 'fhir/r4';
import type { ToolId } from '../../content/ids.ts';
import type { Content } from '../../content/types.ts';
import { partKey, partStatus, screwKey, screwStatus, toolKey } from './fhir-metal.ts';
import {
  deviceAction,
  instant,
  itemIn,
  narrative,
  period,
  personName,
  siteOf,
  words,
  type Shelf,
} from './fhir-parts.ts';
import {
  isSaidToStay,
  linesIn,
  type Attempt,
  type CaseRecord,
  type PartMove,
  type RecordFacts,
  type ScrewFate,
} from './model.ts';
import { sentence } from '../format/prose.ts';

/** What was done, as the page that is signed says it. */
const doneBlocks = ({ first }: CaseRecord) => first.sections.find(({ id }) => id === 'done')?.blocks ?? [];

/**
 * How far it came, in R4's words. `unknown` where the log was closed and nobody entered that work had begun: it may
 * have been forgotten.
 */
function statusOf({ operation, isClosed }: RecordFacts): Procedure['status'] {
  if (operation.purpose === null) return 'unknown';
  if (operation.began === null) return isClosed ? 'unknown' : 'preparation';
  if (!isClosed) return 'in-progress';
  return operation.stopped === null ? 'completed' : 'stopped';
}

/** What came of it: how much is out, what stays, what is in or out and nobody knows, and how the metal was counted. */
function outcomeOf(shelf: Shelf, record: CaseRecord): string {
  const { operation, stillIn } = record.facts;
  if (operation.began === null) return '';
  const { labels } = shelf.locale.firstPage;
  const line = (label: string, lines: readonly string[]) => (lines.length ? [`${label}: ${lines.join('; ')}`] : []);
  const named = (isKnown: boolean) =>
    stillIn.filter((piece) => isSaidToStay(piece) === isKnown).map(({ what }) => what);
  const counts = itemIn(record.first.sections, 'counts');
  return [
    ...(operation.metal.length ? [operation.metal.join('; ')] : []),
    ...line(labels.staysIn, named(true)),
    ...line(labels.mayStay, named(false)),
    ...(counts ? line(counts.label, linesIn(shelf.locale.language, counts.value)) : []),
  ]
    .map(sentence)
    .join(' ');
}

/** What was done to each screw and part that was worked on; none to one that nobody touched. */
function focalDevices(shelf: Shelf, facts: RecordFacts): ProcedureFocalDevice[] {
  const of = (name: string, action: Parameters<typeof deviceAction>[0]) => ({
    action: deviceAction(action),
    manipulated: shelf.refer(name),
  });
  const moved = new Set(facts.operation.partMoves.map(({ part }) => part));
  const putIn = new Set(facts.parts.flatMap(({ screw, end }) => (end === 'put-in' && screw !== null ? [screw] : [])));
  const screws = facts.screws.flatMap((fate) => {
    const isOut = fate.stage === 'out' && fate.foundAfter === null && screwStatus(facts, fate) === 'inactive';
    if (isOut) return [of(screwKey(fate.id), 'explanted')];
    if (putIn.has(fate.id)) return [of(screwKey(fate.id), 'implanted')];
    return fate.attempts.length || fate.stage === 'out' ? [of(screwKey(fate.id), 'manipulated')] : [];
  });
  const parts = facts.parts.flatMap((part) => {
    const name = partKey(facts, part.id);
    if (name === screwKey(part.screw ?? '')) return [];
    if (part.end === 'put-in') return [of(name, 'implanted')];
    if (partStatus(part) === 'inactive' && part.after === null) return [of(name, 'explanted')];
    return moved.has(part.id) || part.off !== null ? [of(name, 'manipulated')] : [];
  });
  return [...screws, ...parts];
}

/** A reference to each tool, once. */
const toolsUsed = (shelf: Shelf, content: Content, tools: readonly (ToolId | null | undefined)[]) =>
  [...new Set(tools)].flatMap((tool) => (tool ? [shelf.refer(toolKey(tool), shelf.locale.tool(content, tool))] : []));

function notesOf(shelf: Shelf, { planned, openedAs, operation, screws, entries }: RecordFacts): string[] {
  const names = shelf.locale.forms.fhir;
  const unnamed = screws.flatMap(({ attempts }) => attempts).filter(({ tool }) => tool === undefined).length;
  if (entries === 0) return [shelf.locale.sections.noEntry];
  return [
    names.plannedNote(planned),
    ...(operation.written.length ? [names.writtenNote(operation.written.join('; '))] : []),
    ...openedAs,
    ...(operation.began === null ? [names.noBeginning] : []),
    ...(unnamed ? [shelf.locale.sections.tools.unnamed(unnamed)] : []),
  ].map(sentence);
}

/** The operation as a whole. */
export function addOperation(shelf: Shelf, record: CaseRecord, content: Content): void {
  const { facts } = record;
  const { operation, isClosed } = facts;
  const names = shelf.locale.forms.fhir;
  const performed = period(operation.began, isClosed ? operation.ended : null);
  const performer = facts.people.map(({ role, who }): ProcedurePerformer => ({
    function: words(shelf.locale.roles[role]),
    actor: shelf.refer(personName(role, who), who),
  }));
  const status = statusOf(facts);
  const outcome = outcomeOf(shelf, record);
  const focalDevice = focalDevices(shelf, facts);
  const usedReference = toolsUsed(shelf, content, [
    ...facts.screws.flatMap(({ attempts }) => attempts.map(({ tool }) => tool)),
    ...operation.partMoves.map(({ tool }) => tool),
  ]);
  shelf.add('operation', {
    resourceType: 'Procedure',
    text: narrative(shelf.locale, doneBlocks(record)),
    status,
    ...(status === 'stopped' && { statusReason: words(operation.stopped ?? shelf.locale.notRecorded) }),
    code: words(
      operation.purpose === null
        ? shelf.locale.notRecorded
        : names[operation.purpose](facts.construct, siteOf(shelf, facts)),
    ),
    subject: shelf.refer('patient', shelf.locale.notRecorded),
    ...(performed && { performedPeriod: performed }),
    ...(performer.length && { performer: [...new Map(performer.map((one) => [JSON.stringify(one), one])).values()] }),
    bodySite: [words(siteOf(shelf, facts))],
    ...(outcome && { outcome: words(outcome) }),
    ...(operation.complications.length && { complication: operation.complications.map(words) }),
    note: notesOf(shelf, facts).map((text) => ({ text })),
    ...(focalDevice.length && { focalDevice }),
    ...(usedReference.length && { usedReference }),
  });
}

/** One Procedure for each move on a screw or a part, in parts of the operation; their names. */
export function addSteps(shelf: Shelf, { facts }: CaseRecord, content: Content): string[] {
  return [
    ...facts.screws.flatMap((fate) => fate.attempts.map((attempt) => addStep(shelf, facts, content, fate, attempt))),
    ...facts.operation.partMoves.map((move) => addPartMove(shelf, facts, content, move)),
  ];
}

export const stepKey = (n: number): string => `step:${n}`;

function addStep(shelf: Shelf, facts: RecordFacts, content: Content, fate: ScrewFate, attempt: Attempt): string {
  const name = stepKey(attempt.n);
  const { outcome, gained, endedBy, what } = attempt;
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
  const { label } = content.phrases.moves[attempt.move];
  const isOut = outcome === 'out' && screwStatus(facts, fate) === 'inactive' && fate.foundAfter === null;
  const usedReference = toolsUsed(shelf, content, [attempt.tool]);
  shelf.add(name, {
    resourceType: 'Procedure',
    partOf: [shelf.refer('operation')],
    status,
    ...(status === 'stopped' && { statusReason: words(sentence(how)) }),
    code: words(what === null ? label : `${label}: ${what}`),
    subject: shelf.refer('patient', shelf.locale.notRecorded),
    ...(performed && { performedPeriod: performed }),
    bodySite: [words(shelf.locale.forms.fhir.at(siteOf(shelf, facts), fate.id))],
    outcome: words(sentence(how)),
    focalDevice: [
      { action: deviceAction(isOut ? 'explanted' : 'manipulated'), manipulated: shelf.refer(screwKey(fate.id)) },
    ],
    ...(usedReference.length && { usedReference }),
  });
  return name;
}

function addPartMove(shelf: Shelf, facts: RecordFacts, content: Content, told: PartMove): string {
  const name = stepKey(told.n);
  const { outcome } = told;
  const part = facts.parts.find(({ id }) => id === told.part);
  const isOut = outcome === 'out' && part !== undefined && partStatus(part) === 'inactive' && part.after === null;
  const status: Procedure['status'] =
    outcome === null ? 'unknown' : outcome === 'out' || outcome === 'moving' ? 'completed' : 'stopped';
  const usedReference = toolsUsed(shelf, content, [told.tool]);
  shelf.add(name, {
    resourceType: 'Procedure',
    partOf: [shelf.refer('operation')],
    status,
    ...(status === 'stopped' && { statusReason: words(told.sentence) }),
    code: words(shelf.locale.forms.fhir.onPart(told.move, part?.name ?? shelf.locale.entries.partName(told.part))),
    subject: shelf.refer('patient', shelf.locale.notRecorded),
    performedDateTime: instant(told.at),
    bodySite: [words(siteOf(shelf, facts))],
    outcome: words(told.sentence),
    ...(part && {
      focalDevice: [
        {
          action: deviceAction(isOut ? 'explanted' : 'manipulated'),
          manipulated: shelf.refer(partKey(facts, told.part)),
        },
      ],
    }),
    ...(usedReference.length && { usedReference }),
  });
  return name;
}
