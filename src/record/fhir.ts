/** The record as a FHIR R4 document: a Bundle with its Composition first. */
import type { Bundle, Composition, CompositionSection } from 'fhir/r4';
import type { Content } from '../../content/types.ts';
import { addDevices, addOperation, addSteps, personName } from './fhir-clinical.ts';
import { dataOperation, instant, loinc, narrative, period, Shelf, urn, words } from './fhir-parts.ts';
import type { Block, CaseRecord, RecordFacts } from './model.ts';
import { linesOf } from './model.ts';
import { count, some } from './words.ts';

/** Items with a LOINC section of their own (HL7 C-CDA on FHIR, operative note). */
const coded = [
  ['59772-4', 'planned', 'Procedure planned'],
  ['10223-6', 'procedure', 'Procedure carried out'],
  ['59768-2', 'indication', 'Indication'],
  ['10219-4', 'diagnosis', 'Diagnosis before operation'],
  ['10218-6', 'post-op-diagnosis', 'Diagnosis after operation'],
  ['59774-0', 'anaesthesia', 'Anaesthesia'],
  ['59776-5', 'findings', 'Findings'],
  ['55109-3', 'complications', 'Problems and complications'],
  ['59770-8', 'blood-loss', 'Blood loss'],
  ['59773-2', 'specimens', 'Specimens'],
  ['59771-6', 'implants', 'Implants taken out and left'],
  ['11537-8', 'drains', 'Drains'],
  ['18776-5', 'instructions', 'Instructions after operation'],
] as const;
const codedIds = new Set<string>(coded.map(([, id]) => id));

const status = { draft: 'preliminary', signed: 'final', amended: 'amended' } as const;
/** Stands where a log without any entry has no time. */
const noTime = 0;

const blocksOf = (record: CaseRecord, id: string) => record.sections.find((section) => section.id === id)?.blocks ?? [];
const itemOf = (record: CaseRecord, id: string) =>
  blocksOf(record, 'operation').find(
    (block): block is Extract<Block, { kind: 'item' }> => block.kind === 'item' && block.id === id,
  );

/** The lines of an item, empty when it is not recorded. */
function textOf(record: CaseRecord, id: string): string {
  const item = itemOf(record, id);
  return item?.value.state === 'recorded' ? linesOf(item.value).join('; ') : '';
}

function sectionsOf(
  record: CaseRecord,
  shelf: Shelf,
  devices: readonly string[],
  steps: readonly string[],
): CompositionSection[] {
  const entry = (names: readonly string[]) => (names.length ? { entry: names.map((name) => shelf.refer(name)) } : {});
  const plain = (id: string, names: readonly string[] = []): CompositionSection[] =>
    record.sections
      .filter((section) => section.id === id)
      .map(({ title, blocks }) => ({
        title,
        text: narrative(
          blocks.filter((block) => id !== 'operation' || block.kind !== 'item' || !codedIds.has(block.id)),
        ),
        ...entry(names),
      }));
  const own = new Set(['head', 'stays-in', 'timeline']);
  return [
    ...plain('head'),
    ...plain('stays-in', devices),
    ...coded.flatMap(([code, id, title]): CompositionSection[] => {
      const item = itemOf(record, id);
      return item
        ? [
            {
              title,
              code: loinc(code, title),
              text: narrative([item]),
              ...entry(id === 'procedure' ? ['operation'] : []),
            },
          ]
        : [];
    }),
    {
      title: 'Description: timeline',
      code: loinc('29554-3', 'Procedure description'),
      text: narrative(blocksOf(record, 'timeline')),
      ...entry(steps),
    },
    ...record.sections.filter(({ id }) => !own.has(id)).flatMap(({ id }) => plain(id)),
  ];
}

function compositionOf(record: CaseRecord, shelf: Shelf, sections: CompositionSection[]): Composition {
  const { facts } = record;
  const surgeons = facts.people.filter(({ role }) => role === 'surgeon');
  const event = period(facts.started, facts.ended);
  const attester = facts.signatures.map(({ at, who, role }) => ({
    mode: 'professional' as const,
    time: instant(at),
    party: shelf.refer(personName(role, who), who),
  }));
  return {
    resourceType: 'Composition',
    language: 'en',
    status: status[facts.status],
    type: { ...loinc('11504-8', 'Surgical operation note') },
    subject: shelf.refer('patient', 'not recorded'),
    date: instant(facts.lastLogged ?? noTime),
    author: [
      shelf.refer('software', 'Counterturn, theatre log'),
      ...surgeons.map(({ role, who }) => shelf.refer(personName(role, who), who)),
    ],
    title: record.title,
    ...(attester.length && { attester }),
    ...(event && { event: [{ code: [words('removal of metalwork')], period: event }] }),
    section: sections,
  };
}

function addPeople(shelf: Shelf, { people, signatures }: RecordFacts): void {
  const names = new Map([...people, ...signatures].map(({ role, who }) => [personName(role, who), who]));
  for (const [name, who] of names) shelf.add(name, { resourceType: 'Practitioner', name: [{ text: who }] });
}

const sealText = ({ seals, brokenAt, headSeal }: RecordFacts) =>
  some(
    seals === 'broken' ? `seal broken at entry ${brokenAt ?? 'not known'}` : `seals: ${seals}`,
    headSeal !== null && `last seal ${headSeal}`,
    'the seal shows damage and edits, it does not stop a forger who seals anew',
  ).join('; ');

const activities = {
  strike: 'NULLIFY',
  correction: 'UPDATE',
  addendum: 'APPEND',
  remark: 'APPEND',
  'entry after signing': 'APPEND',
} as const;

/** Where the document comes from, and every correction and addition. */
function addProvenance(shelf: Shelf, { facts }: CaseRecord, entries: number): void {
  const target = [shelf.refer('composition')];
  shelf.add('provenance', {
    resourceType: 'Provenance',
    target,
    recorded: instant(facts.lastLogged ?? noTime),
    activity: dataOperation('CREATE'),
    agent: [{ type: words('author'), who: shelf.refer('software') }],
    entity: [{ role: 'source', what: { display: `Log of ${count(entries, 'entry', 'entries')}; ${sealText(facts)}` } }],
  });
  for (const { n, kind, at, logged, by, text, of } of facts.changes)
    shelf.add(`provenance:${n}`, {
      resourceType: 'Provenance',
      target,
      occurredDateTime: instant(at),
      recorded: instant(logged),
      reason: [words(text)],
      activity: dataOperation(activities[kind]),
      agent: [{ type: words('enterer'), who: { display: by } }],
      entity: [
        { role: of === null ? 'source' : 'revision', what: { display: `Entry ${of ?? n} of the log, ${kind}` } },
      ],
    });
}

/**
 * The record as a document Bundle. A log without entries has no time; its document is dated 1970-01-01.
 *
 * Subject: a Patient without identifiers, display "not recorded". Codes: LOINC for sections, HL7's own for device
 * actions and provenance, UCUM for mm; words everywhere else. Ids follow from the log alone.
 *
 * @param content the version that the case names
 */
export function fhirBundle(record: CaseRecord, content: Content): Bundle {
  const { facts } = record;
  const body = new Shelf(facts.digest);
  const patientText: Block = { kind: 'text', text: 'Patient: not recorded.' };
  body.add('patient', { resourceType: 'Patient', text: narrative([patientText]) });
  body.add('software', {
    resourceType: 'Device',
    status: 'active',
    type: words('software that keeps the log in theatre'),
    deviceName: [{ name: 'Counterturn', type: 'user-friendly-name' }],
    version: [{ value: `content ${facts.contentVersion}` }],
  });
  addPeople(body, facts);
  addOperation(body, record, {
    procedure: textOf(record, 'procedure'),
    outcome: textOf(record, 'procedure'),
    complications: textOf(record, 'complications'),
  });
  const devices = addDevices(body, record);
  const steps = addSteps(body, record, content);
  addProvenance(body, record, facts.entries);
  const first = new Shelf(facts.digest);
  first.add('composition', compositionOf(record, body, sectionsOf(record, body, devices, steps)));
  return {
    resourceType: 'Bundle',
    identifier: { system: 'urn:ietf:rfc:3986', value: urn(facts.digest, 'document') },
    type: 'document',
    timestamp: instant(facts.lastLogged ?? noTime),
    entry: [...first.entries, ...body.entries],
  };
}

/** The document as JSON, two blanks of indent, with a new line at the end. */
export const noteFhir = (record: CaseRecord, content: Content): string =>
  `${JSON.stringify(fhirBundle(record, content), null, 2)}\n`;
