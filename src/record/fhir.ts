/** The record as a FHIR R4 document: a Bundle with its Composition first. */
import type { Bundle, Composition, CompositionSection } from 'fhir/r4';
import type { Content } from '../../content/types.ts';
import { addOperation, addSteps } from './fhir-clinical.ts';
import { addMetal, type MetalKeys } from './fhir-metal.ts';
import { dayless, instant, itemIn, loinc, narrative, period, personName, Shelf, urn, words } from './fhir-parts.ts';
import { addPeople, signerKey } from './fhir-people.ts';
import { addProvenance } from './fhir-provenance.ts';
import type { Block, CaseRecord } from './model.ts';
import { localeOf } from './locales/index.ts';

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
const blocksOf = (record: CaseRecord, id: string) => record.sections.find((section) => section.id === id)?.blocks ?? [];

function sectionsOf(
  record: CaseRecord,
  shelf: Shelf,
  metal: MetalKeys,
  steps: readonly string[],
): CompositionSection[] {
  const { people, signatures } = record.facts;
  const entries: Partial<Record<string, readonly string[]>> = {
    'stays-in': metal.stays,
    team: [...new Set(people.map(({ role, who }) => personName(role, who)))],
    screws: metal.screws,
    tools: metal.tools,
    metal: metal.parts,
    signature: signatures.map(({ n }) => signerKey(n)),
  };
  const entry = (names: readonly string[]) => (names.length ? { entry: names.map((name) => shelf.refer(name)) } : {});
  const plain = (id: string): CompositionSection[] =>
    record.sections
      .filter((section) => section.id === id)
      .map(({ title, blocks }) => ({
        title,
        text: narrative(
          shelf.locale,
          blocks.filter((block) => id !== 'operation' || block.kind !== 'item' || !codedIds.has(block.id)),
        ),
        ...entry(entries[id] ?? []),
      }));
  const names = shelf.locale.forms.fhirSections;
  const own = new Set(['head', 'stays-in', 'timeline']);
  return [
    ...plain('head'),
    ...plain('stays-in'),
    ...coded.flatMap(([code, id]): CompositionSection[] => {
      const item = itemIn(
        record.sections.filter((section) => section.id === 'operation'),
        id,
      );
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

/** The page that is signed, but for its picture; its sentences are those of the page. */
function firstPage(record: CaseRecord, shelf: Shelf): Block[] {
  const shown = ['head', 'done', 'stays-in', 'missing', 'signature'];
  const undated: Block[] = [{ kind: 'text', text: shelf.locale.forms.fhir.undated }];
  return [
    { kind: 'heading', text: record.first.title },
    ...(record.facts.lastLogged === null ? undated : []),
    ...record.first.sections.flatMap(({ id, title, blocks }): Block[] =>
      shown.includes(id) ? [{ kind: 'heading', text: title }, ...blocks] : [],
    ),
  ];
}

function compositionOf(record: CaseRecord, shelf: Shelf, sections: CompositionSection[]): Composition {
  const { facts } = record;
  const names = shelf.locale.forms.fhir;
  const event = period(facts.operation.began, facts.isClosed ? facts.operation.ended : null);
  const signers = facts.signatures.map(({ n, at, who, role, standing }) => ({
    // Who signed in no role of the list did not say in which capacity.
    mode: role === 'other' ? ('personal' as const) : ('professional' as const),
    time: instant(at),
    party: shelf.refer(signerKey(n), names.signer(who, shelf.locale.roles[role], standing)),
  }));
  return {
    resourceType: 'Composition',
    language: shelf.locale.language,
    text: narrative(shelf.locale, firstPage(record, shelf)),
    status: status[facts.status],
    type: { ...loinc('11504-8', names.note) },
    subject: shelf.refer('patient', shelf.locale.notRecorded),
    date: instant(facts.lastLogged ?? dayless),
    // Nobody who did not sign has said that the words are theirs.
    author: [shelf.refer('software', names.software), ...signers.map(({ party }) => party)],
    title: record.title,
    ...(signers.length && { attester: signers }),
    ...(event && { event: [{ code: [words(names.event)], period: event }] }),
    section: sections,
  };
}

/**
 * The record as a document Bundle. A log without entries has no time; its document is dated 1970-01-01.
 *
 * Subject: a Patient without identifiers, display "not recorded". Codes: LOINC for sections, HL7's own for device
 * actions and provenance, UCUM for mm; words everywhere else. Ids follow from the log alone. Everything in it but
 * Provenance is reached from the Composition.
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
  addOperation(body, record, content);
  const metal = addMetal(body, record, content);
  const steps = addSteps(body, record, content);
  addProvenance(body, record);
  const first = new Shelf(facts.digest, locale);
  first.add('composition', compositionOf(record, body, sectionsOf(record, body, metal, steps)));
  return {
    resourceType: 'Bundle',
    identifier: { system: 'urn:ietf:rfc:3986', value: urn(facts.digest, 'document') },
    type: 'document',
    timestamp: instant(facts.lastLogged ?? dayless),
    entry: [...first.entries, ...body.entries],
  };
}

/** The document as JSON, two blanks of indent, with a new line at the end. */
export const noteFhir = (record: CaseRecord, content: Content): string =>
  `${JSON.stringify(fhirBundle(record, content), null, 2)}\n`;
