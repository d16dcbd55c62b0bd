/**
 * Where the document comes from, and who told what when: a Provenance for the log as a whole and one for each entry.
 *
 * R4 keeps AuditEvent for a security log and lets a document hold Provenance of what is in it; an entry tells of the
 * operation, with the time it happened and the time it was entered, so it is the latter.
 */
import type { Provenance, ProvenanceAgent } from 'fhir/r4';
import { stepKey } from './fhir-clinical.ts';
import { screwKey } from './fhir-metal.ts';
import { dataOperation, dayless, instant, participant, personName, rowsIn, type Shelf } from './fhir-parts.ts';
import { signerKey } from './fhir-people.ts';
import type { CaseRecord, RecordFacts, TimelineRow } from './model.ts';
import { some } from '../format/prose.ts';

const sealText = ({ locale: { forms } }: Shelf, { seals, brokenAt, headSeal }: RecordFacts) =>
  some(
    seals === 'broken' ? forms.fhir.sealBroken(brokenAt) : forms.fhir.seals(seals),
    headSeal !== null && forms.fhir.lastSeal(headSeal),
    forms.fhir.sealTail,
  ).join('; ');

const activities: Partial<Record<string, Parameters<typeof dataOperation>[0]>> = {
  strike: 'NULLIFY',
  correction: 'UPDATE',
};

/** What an entry speaks of, where that is a resource of its own; else the document. */
function targetsOf({ facts }: CaseRecord): ReadonlyMap<number, string> {
  const targets = new Map<number, string>(facts.people.map(({ n, role, who }) => [n, personName(role, who)]));
  for (const { attempts } of facts.screws)
    for (const { n, endedBy } of attempts) {
      targets.set(n, stepKey(n));
      // What broke off several ends none of them alone.
      if (endedBy !== null && !targets.has(endedBy)) targets.set(endedBy, stepKey(n));
    }
  for (const { n } of facts.operation.partMoves) targets.set(n, stepKey(n));
  return targets;
}

/** Entries that tell of a screw as such. */
const ofScrew = ['screw-listed', 'left-in', 'piece-recovered', 'destroyed', 'found', 'head-seen', 'length-answered'];

/** Who called it and who entered it; a role is all that was said of them. */
function agentsOf(shelf: Shelf, { by, n }: TimelineRow, facts: RecordFacts): ProvenanceAgent[] {
  const { roles, notRecorded, forms } = shelf.locale;
  const names = forms.fhir;
  const signed = facts.signatures.find((signature) => signature.n === n);
  return [
    ...(signed ? [{ type: participant('attester', names.attester), who: shelf.refer(signerKey(n), signed.who) }] : []),
    ...(by.called ? [{ type: participant('informant', names.informant), who: { display: roles[by.called] } }] : []),
    {
      type: participant('enterer', names.enterer),
      who: { display: by.entered ? roles[by.entered] : notRecorded },
    },
  ];
}

export function addProvenance(shelf: Shelf, record: CaseRecord): void {
  const { facts } = record;
  const rows = rowsIn(record);
  const names = shelf.locale.forms.fhir;
  shelf.add('provenance', {
    resourceType: 'Provenance',
    target: [shelf.refer('composition')],
    recorded: instant(facts.lastLogged ?? dayless),
    activity: dataOperation('CREATE'),
    agent: [{ type: participant('composer', names.composer), who: shelf.refer('software') }],
    entity: [{ role: 'source', what: { display: names.log(facts.entries, sealText(shelf, facts)) } }],
  });
  const targets = targetsOf(record);
  const changes = new Map(facts.changes.map((change) => [change.n, change]));
  const listed = new Set(facts.screws.map(({ id }) => id));
  for (const row of rows) {
    const change = changes.get(row.n);
    const target =
      targets.get(row.n) ??
      (row.screw !== null && listed.has(row.screw) && ofScrew.includes(row.type) && !row.struck
        ? screwKey(row.screw)
        : 'composition');
    const provenance: Provenance = {
      resourceType: 'Provenance',
      target: [shelf.refer(target)],
      occurredDateTime: instant(row.at),
      recorded: instant(row.logged),
      activity: dataOperation((change && activities[change.kind]) ?? 'APPEND'),
      agent: agentsOf(shelf, row, facts),
      entity: [
        {
          role: 'source',
          what: { display: names.told(row.n, [...row.marks.map((mark) => `[${mark}]`), row.sentence].join(' ')) },
        },
        ...(change?.of !== null && change?.of !== undefined
          ? [{ role: 'revision' as const, what: { display: names.entryOf(change.of) } }]
          : []),
        ...hashOf(shelf, facts, row.n),
      ],
    };
    shelf.add(`provenance:${row.n}`, provenance);
  }
}

/** The hash of the words that were signed: no digital signature, so none is claimed. */
function hashOf({ locale }: Shelf, { signatures }: RecordFacts, n: number): NonNullable<Provenance['entity']> {
  const hash = signatures.find((signature) => signature.n === n)?.textHash ?? null;
  return hash === null ? [] : [{ role: 'source', what: { display: locale.forms.fhir.signedText(hash) } }];
}
