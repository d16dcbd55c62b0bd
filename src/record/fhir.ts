/** The record as a FHIR R4 document: a Bundle with its Composition first. */
import type { Bundle, Composition, CompositionSection } from 'fhir/r4';
import type { Content } from '../../content/types.ts';
import { addDevices, addOperation, addSteps, personName } from './fhir-clinical.ts';
import { dataOperation, instant, loinc, narrative, period, Shelf, urn, words } from './fhir-parts.ts';
import type { Block, CaseRecord, RecordFacts } from './model.ts';
import { linesOf } from './model.ts';
import { localeOf } from './locales/index.ts';
import { some } from '../format/prose.ts';

/** Items with a LOINC section of their own (HL7 C-CDA on FHIR, operative note). */
const coded = [
  ['59772-4', 'planned'],
  ['10223-6', 'procedure'],
  ['59768-2', 'indication'],
  ['10219-4', 'diagnosis'],
  ['10218-6', 'post-op-diagnosis'],
  ['59774-0', 'anaesthesia'],
  ['59776-5', 'findings'],
  ['55109-3', 'complications'],
  ['59770-8', 'blood-loss'],
  ['59773-2', 'specimens'],
  ['59771-6', 'implants'],
  ['11537-8', 'drains'],
  ['18776-5', 'instructions'],
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
          shelf.locale,
          blocks.filter((block) => id !== 'operation' || block.kind !== 'item' || !codedIds.has(block.id)),
        ),
        ...entry(names),
      }));
  const names = shelf.locale.forms.fhirSections;
  const own = new Set(['head', 'stays-in', 'timeline']);
  return [
    ...plain('head'),
    ...plain('stays-in', devices),
    ...coded.flatMap(([code, id]): CompositionSection[] => {
      const item = itemOf(record, id);
      const title = names[id];
      return item
        ? [
            {
              title,
              code: loinc(code, title),
              text: narrative(shelf.locale, [item]),
              ...entry(id === 'procedure' ? ['operation'] : []),
            },
          ]
        : [];
    }),
    {
      title: names.timeline,
      code: loinc('29554-3', names.description),
      text: narrative(shelf.locale, blocksOf(record, 'timeline')),
      ...entry(steps),
    },
    ...record.sections.filter(({ id }) => !own.has(id)).flatMap(({ id }) => plain(id)),
  ];
}

function compositionOf(record: CaseRecord, shelf: Shelf, sections: CompositionSection[]): Composition {
  const { facts } = record;
  const names = shelf.locale.forms.fhir;
  const surgeons = facts.people.filter(({ role }) => role === 'surgeon');
  const event = period(facts.started, facts.ended);
  const attester = facts.signatures.map(({ at, who, role }) => ({
    mode: 'professional' as const,
    time: instant(at),
    party: shelf.refer(personName(role, who), who),
  }));
  return {
    resourceType: 'Composition',
    language: shelf.locale.language,
    status: status[facts.status],
    type: { ...loinc('11504-8', names.note) },
    subject: shelf.refer('patient', shelf.locale.notRecorded),
    date: instant(facts.lastLogged ?? noTime),
    author: [
      shelf.refer('software', names.software),
      ...surgeons.map(({ role, who }) => shelf.refer(personName(role, who), who)),
    ],
    title: record.title,
    ...(attester.length && { attester }),
    ...(event && { event: [{ code: [words(names.event)], period: event }] }),
    section: sections,
  };
}

function addPeople(shelf: Shelf, { people, signatures }: RecordFacts): void {
  const names = new Map([...people, ...signatures].map(({ role, who }) => [personName(role, who), who]));
  for (const [name, who] of names) shelf.add(name, { resourceType: 'Practitioner', name: [{ text: who }] });
}

const sealText = ({ locale: { forms } }: Shelf, { seals, brokenAt, headSeal }: RecordFacts) =>
  some(
    seals === 'broken' ? forms.fhir.sealBroken(brokenAt) : forms.fhir.seals(seals),
    headSeal !== null && forms.fhir.lastSeal(headSeal),
    forms.fhir.sealTail,
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
  const { notRecorded, sections, forms } = shelf.locale;
  const names = forms.fhir;
  shelf.add('provenance', {
    resourceType: 'Provenance',
    target,
    recorded: instant(facts.lastLogged ?? noTime),
    activity: dataOperation('CREATE'),
    agent: [{ type: words(names.author), who: shelf.refer('software') }],
    entity: [{ role: 'source', what: { display: names.log(entries, sealText(shelf, facts)) } }],
  });
  for (const { n, kind, at, logged, by, text, of } of facts.changes)
    shelf.add(`provenance:${n}`, {
      resourceType: 'Provenance',
      target,
      occurredDateTime: instant(at),
      recorded: instant(logged),
      reason: [words(text)],
      activity: dataOperation(activities[kind]),
      agent: [{ type: words(names.enterer), who: { display: by ?? notRecorded } }],
      entity: [
        {
          role: of === null ? 'source' : 'revision',
          what: { display: names.entryOf(of ?? n, sections.changes.kinds[kind]) },
        },
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
  const locale = localeOf(record.language ?? 'en');
  const names = locale.forms.fhir;
  const body = new Shelf(facts.digest, locale);
  const patientText: Block = { kind: 'text', text: names.patient };
  body.add('patient', { resourceType: 'Patient', text: narrative(locale, [patientText]) });
  body.add('software', {
    resourceType: 'Device',
    status: 'active',
    type: words(names.softwareType),
    deviceName: [{ name: 'Counterturn', type: 'user-friendly-name' }],
    version: [{ value: names.version(facts.contentVersion) }],
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
  const first = new Shelf(facts.digest, locale);
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
