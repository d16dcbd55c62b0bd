/** Checks of a FHIR R4 document that no single validator makes; each returns what is wrong, empty when nothing is. */
import { createRequire } from 'node:module';
import type { Bundle, Provenance } from 'fhir/r4';
import { Fhir } from 'fhir';
import fhirpath from 'fhirpath';
import model from 'fhirpath/fhir-context/r4';

const require = createRequire(import.meta.url);
const JsonSchema = require('@asymmetrik/fhir-json-schema-validator') as new () => {
  validate(resource: unknown): unknown[];
};
const structure = new Fhir();

/** Required elements, unknown properties, bound codes. Value sets that the package does not carry are only warned of. */
export const structureFaults = (bundle: unknown): string[] =>
  structure
    .validate(bundle as object, { errorOnUnexpected: true })
    .messages.filter(({ severity }) => severity === 'error' || severity === 'fatal')
    .map(({ location, message }) => `${location}: ${message}`);

/** The official R4 JSON schema (dates, cardinalities, unknown properties). A fresh one each time: it changes itself. */
export const schemaFaults = (bundle: unknown): string[] =>
  new JsonSchema().validate(bundle).map((fault) => JSON.stringify(fault));

/** Invariants of the R4 Bundle, Composition and narrative definitions, as FHIRPath. */
const invariants: Record<string, string> = {
  'bdl-1': "Bundle.total.empty() or (Bundle.type = 'searchset') or (Bundle.type = 'history')",
  'bdl-3': 'Bundle.entry.all(request.empty())',
  'bdl-4': 'Bundle.entry.all(response.empty())',
  'bdl-7': 'Bundle.entry.fullUrl.isDistinct()',
  'bdl-8': "Bundle.entry.fullUrl.all($this.contains('/_history/').not())",
  'bdl-9': "Bundle.type = 'document' implies (Bundle.identifier.system.exists() and Bundle.identifier.value.exists())",
  'bdl-10': "Bundle.type = 'document' implies Bundle.timestamp.exists()",
  'bdl-11': "Bundle.type = 'document' implies Bundle.entry.first().resource.is(Composition)",
  'timestamp-after-date': 'Bundle.timestamp >= Bundle.entry.first().resource.date',
  'cmp-1': 'Bundle.entry.resource.ofType(Composition).section.all(text.exists() or entry.exists() or section.exists())',
  'cmp-2': 'Bundle.entry.resource.ofType(Composition).section.all(emptyReason.empty() or entry.empty())',
  'subject-required': 'Bundle.entry.resource.ofType(Composition).subject.reference.exists()',
  'per-1': 'Bundle.entry.resource.ofType(Procedure).performedPeriod.all(start.empty() or end.empty() or start <= end)',
};
export const invariantFaults = (bundle: unknown): string[] =>
  Object.keys(invariants).filter((id) => {
    const [holds] = fhirpath.evaluate(bundle, invariants[id] as string, {}, model) as unknown[];
    return holds !== true;
  });

function* walk(value: unknown, path = 'Bundle'): Generator<[string, Record<string, unknown>]> {
  if (Array.isArray(value)) for (const [index, item] of value.entries()) yield* walk(item, `${path}[${index}]`);
  else if (typeof value === 'object' && value !== null) {
    yield [path, value as Record<string, unknown>];
    for (const [key, item] of Object.entries(value)) yield* walk(item, `${path}.${key}`);
  }
}

const choices = ['performed', 'occurred', 'timing', 'value', 'deceased', 'multipleBirth', 'reported'];
const types =
  /^(DateTime|Period|String|Age|Range|Instant|Timing|Boolean|Integer|Quantity|Code|CodeableConcept|Reference)$/;
/** A choice element may come in one type only. */
export const choiceFaults = (bundle: unknown): string[] =>
  [...walk(bundle)].flatMap(([path, object]) =>
    choices
      .filter(
        (choice) =>
          Object.keys(object).filter((key) => key.startsWith(choice) && types.test(key.slice(choice.length))).length >
          1,
      )
      .map((choice) => `${path}.${choice}[x]`),
  );

/** Every reference resolves inside the document. */
export function referenceFaults(bundle: unknown): string[] {
  const known = new Set((bundle as Bundle).entry?.map(({ fullUrl }) => fullUrl));
  return [...walk(bundle)].flatMap(([path, { reference }]) =>
    typeof reference === 'string' && !known.has(reference) ? [`${path}: ${reference}`] : [],
  );
}

/**
 * What a document may hold (R4, Documents): the Composition, what it refers to directly or through others, and Provenance
 * of any of these; nothing else.
 */
export function strayFaults(bundle: unknown): string[] {
  const { entry = [] } = bundle as Bundle;
  const resources = new Map(entry.map(({ fullUrl, resource }) => [fullUrl, resource]));
  const reached = new Set<string | undefined>();
  const open = [entry[0]?.fullUrl];
  while (open.length) {
    const url = open.pop();
    if (reached.has(url)) continue;
    reached.add(url);
    for (const [, { reference }] of walk(resources.get(url))) if (typeof reference === 'string') open.push(reference);
  }
  return entry.flatMap(({ fullUrl, resource }) => {
    if (reached.has(fullUrl)) return [];
    const isOfDocument =
      resource?.resourceType === 'Provenance' &&
      (resource as Provenance).target.every(({ reference }) => reached.has(reference));
    return isOfDocument ? [] : [`${resource?.resourceType} ${fullUrl}`];
  });
}

/** Check digit of a LOINC code: Mod 10 (Luhn) over the digits before the hyphen. */
export function loincDigit(code: string): number {
  const [digits = ''] = code.split('-');
  const sum = [...digits].reverse().reduce((total, digit, index) => {
    const value = Number(digit) * (index % 2 === 0 ? 2 : 1);
    return total + (value > 9 ? value - 9 : value);
  }, 0);
  return (10 - (sum % 10)) % 10;
}

const open = new Set([
  'http://loinc.org',
  'http://terminology.hl7.org/CodeSystem/v3-DataOperation',
  'http://terminology.hl7.org/CodeSystem/provenance-participant-type',
  'http://hl7.org/fhir/device-action',
  'http://unitsofmeasure.org',
  'urn:ietf:rfc:3986',
]);
/** Codes of open systems only, and every LOINC code with the right check digit. */
export const codeFaults = (bundle: unknown): string[] =>
  [...walk(bundle)].flatMap(([path, { system, code }]) => {
    if (typeof system !== 'string') return [];
    if (!open.has(system)) return [`${path}: system ${system}`];
    if (system !== 'http://loinc.org') return [];
    return typeof code === 'string' && Number(code.split('-')[1]) === loincDigit(code)
      ? []
      : [`${path}: LOINC ${String(code)}`];
  });

/** Strings are never empty, and objects and lists neither. */
export const emptyFaults = (bundle: unknown): string[] =>
  [...walk(bundle)].flatMap(([path, object]) =>
    Object.entries(object).flatMap(([key, value]) =>
      value === null || value === '' || (typeof value === 'object' && Object.keys(value).length === 0)
        ? [`${path}.${key}`]
        : [],
    ),
  );
