/** Small parts of FHIR R4 resources: ids, references, times, coded values, narrative. */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import type { CodeableConcept, FhirResource, Narrative, Period, Quantity, Reference } from 'fhir/r4';
import { linesIn, type Block, type CaseRecord, type RecordFacts, type Section, type TimelineRow } from './model.ts';
import type { Locale } from './locales/index.ts';

/**
 * An id in the form of a UUID (version 8, RFC 9562) from SHA-256 of a digest and a name: the same for the same file.
 *
 * @example urn('…', 'patient').slice(0, 9) // 'urn:uuid:'
 */
export function urn(digest: string, name: string): string {
  const hex = bytesToHex(sha256(utf8ToBytes(`${digest}:${name}`)));
  const variant = ((parseInt(hex.charAt(16), 16) & 3) | 8).toString(16);
  return `urn:uuid:${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-${variant}${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}

/** Stands where a log without any entry has no time, and R4 demands one. */
export const dayless = 0;

export const personName = (role: string, who: string): string => `person:${role}:${who}`;

/** Side and bone in words, or that neither was recorded. */
export const siteOf = ({ locale }: Shelf, { side, bone }: Pick<RecordFacts, 'side' | 'bone'>): string =>
  side === bone ? side : locale.forms.fhir.site(side, bone);

/** An item of a page, by its id. */
export const itemIn = (sections: readonly Section[], id: string): Extract<Block, { kind: 'item' }> | undefined =>
  sections
    .flatMap(({ blocks }) => blocks)
    .find((block): block is Extract<Block, { kind: 'item' }> => block.kind === 'item' && block.id === id);

/** Every entry as the timeline has it. */
export const rowsIn = ({ sections }: CaseRecord): TimelineRow[] =>
  sections.flatMap(({ id, blocks }) =>
    id === 'timeline' ? blocks.flatMap((block) => (block.kind === 'timeline' ? block.rows : [])) : [],
  );

/** A FHIR instant or dateTime. Years before 1 do not exist in FHIR. */
export const instant = (ms: number): string => new Date(Math.max(ms, -62_135_596_800_000)).toISOString();

/** A period; an end before the start is left out (late entries may lie so). */
export const period = (from: number | null, to: number | null): Period | undefined =>
  from === null ? undefined : { start: instant(from), ...(to !== null && to >= from && { end: instant(to) }) };

export const words = (text: string): CodeableConcept => ({ text });

/** LOINC (free under its licence, copyright Regenstrief Institute). */
export const loinc = (code: string, text: string): CodeableConcept => ({
  coding: [{ system: 'http://loinc.org', code }],
  text,
});

export const dataOperation = (code: 'CREATE' | 'UPDATE' | 'APPEND' | 'NULLIFY'): CodeableConcept => ({
  coding: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-DataOperation', code }],
});

/** HL7's own code for what somebody had to do with it. */
export const participant = (
  code: 'composer' | 'enterer' | 'informant' | 'attester',
  text: string,
): CodeableConcept => ({
  coding: [{ system: 'http://terminology.hl7.org/CodeSystem/provenance-participant-type', code }],
  text,
});

export const deviceAction = (code: 'explanted' | 'implanted' | 'manipulated'): CodeableConcept => ({
  coding: [{ system: 'http://hl7.org/fhir/device-action', code }],
});

export const millimetres = (value: number): Quantity => ({
  value,
  unit: 'mm',
  system: 'http://unitsofmeasure.org',
  code: 'mm',
});

/** Resources of one document, each under a name of its own. */
export class Shelf {
  readonly entries: { fullUrl: string; resource: FhirResource }[] = [];
  /** The language of every word on it. */
  readonly locale: Locale;
  readonly #digest: string;

  constructor(digest: string, locale: Locale) {
    this.#digest = digest;
    this.locale = locale;
  }

  add(name: string, resource: FhirResource): void {
    this.entries.push({ fullUrl: urn(this.#digest, name), resource });
  }

  refer(name: string, display?: string): Reference {
    return { reference: urn(this.#digest, name), ...(display !== undefined && { display }) };
  }
}

const escape = (text: string) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

const row = (locale: Locale, { date, time, offset, n, marks, sentence }: TimelineRow) =>
  `<li>${locale.day(date)} ${time} (${offset}), ${locale.forms.entry(n)}: ${escape([...marks.map((mark) => `[${mark}]`), sentence].join(' '))}</li>`;

function html(locale: Locale, block: Block): string {
  switch (block.kind) {
    case 'text':
    case 'fill':
    case 'frame':
      return `<p>${escape(block.text)}</p>`;
    case 'heading':
      return `<p><b>${escape(block.text)}</b></p>`;
    case 'list':
      return `<ul>${block.items.map((line) => `<li>${escape(line)}</li>`).join('')}</ul>`;
    case 'timeline':
      return `<ol>${block.rows.map((one) => row(locale, one)).join('')}</ol>`;
    case 'picture':
      return `<p>${escape(block.picture.alt)}</p>`;
    case 'table':
      return `<table>${[block.head, ...block.rows].map((cells) => `<tr>${cells.map((cell) => `<td>${escape(cell)}</td>`).join('')}</tr>`).join('')}</table>`;
    case 'item':
      return `<p><b>${escape(block.label)}:</b> ${linesIn(locale.language, block.value).map(escape).join('<br/>')}</p>`;
  }
}

/** Blocks as the narrative of a resource or section. */
export const narrative = (locale: Locale, blocks: readonly Block[]): Narrative => ({
  status: 'generated',
  div: `<div xmlns="http://www.w3.org/1999/xhtml">${blocks.map((block) => html(locale, block)).join('')}</div>`,
});
