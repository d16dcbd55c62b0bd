/**
 * The FHIR output against HL7 FHIR R4 (4.0.1): the official JSON schema, required elements and bound codes, the
 * document rules bdl-1 to bdl-11, and what those leave out. Every checker first rejects a broken sample.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Bundle, Composition, Procedure, Provenance } from 'fhir/r4';
import type { Entry } from '../../machines/entry.ts';
import { fhirBundle, note } from '../../src/record/index.ts';
import { cases, content, easyPlate, leftBehind, recordOf, written, type Written } from '../record/cases.ts';
import { randomLog } from '../record/random-log.ts';
import {
  choiceFaults,
  codeFaults,
  emptyFaults,
  invariantFaults,
  loincDigit,
  referenceFaults,
  schemaFaults,
  strayFaults,
  structureFaults,
} from './fhir-checks.ts';
import { explore } from '../explore.ts';

const bundleOf = (entries: readonly Entry[]) => JSON.parse(note('fhir', recordOf(entries), content)) as Bundle;
const of = <T>(bundle: Bundle, type: string) =>
  (bundle.entry ?? []).flatMap(({ resource }) => (resource?.resourceType === type ? [resource as T] : []));
const checkers = {
  structureFaults,
  schemaFaults,
  invariantFaults,
  choiceFaults,
  referenceFaults,
  codeFaults,
  emptyFaults,
  strayFaults,
};

describe('each checker rejects', () => {
  const broken = (change: (bundle: Bundle) => void) => {
    const bundle = bundleOf(leftBehind);
    change(bundle);
    return bundle;
  };
  const composition = (bundle: Bundle) => bundle.entry?.[0]?.resource as Composition;
  const procedure = (bundle: Bundle) => of<Procedure>(bundle, 'Procedure')[0] as Procedure;
  it.each<[string, keyof typeof checkers, (bundle: Bundle) => void]>([
    ['a composition without title', 'structureFaults', (b) => delete (composition(b) as Partial<Composition>).title],
    ['a status that does not exist', 'structureFaults', (b) => (composition(b).status = 'draft' as never)],
    ['a property that does not exist', 'structureFaults', (b) => Object.assign(procedure(b), { surgeon: 'A' })],
    ['a date that is none', 'schemaFaults', (b) => (composition(b).date = 'yesterday')],
    ['a procedure without subject', 'schemaFaults', (b) => delete (procedure(b) as Partial<Procedure>).subject],
    ['a document without identifier', 'invariantFaults', (b) => delete b.identifier],
    ['a document without time stamp', 'invariantFaults', (b) => delete b.timestamp],
    ['a document that does not begin with its composition', 'invariantFaults', (b) => b.entry?.reverse()],
    ['two entries under one address', 'invariantFaults', (b) => b.entry?.push({ ...b.entry[1] })],
    ['a time stamp before the date', 'invariantFaults', (b) => (b.timestamp = '2001-01-01T00:00:00Z')],
    ['an empty section', 'invariantFaults', (b) => composition(b).section?.push({ title: 'Nothing' })],
    ['two types of one choice', 'choiceFaults', (b) => (procedure(b).performedDateTime = '2026-02-17')],
    ['a reference to nowhere', 'referenceFaults', (b) => (composition(b).subject = { reference: 'urn:uuid:0' })],
    [
      'a code of a closed system',
      'codeFaults',
      (b) => (procedure(b).code = { coding: [{ system: 'http://snomed.info/sct', code: '1' }] }),
    ],
    [
      'a LOINC code with a wrong check digit',
      'codeFaults',
      (b) => (composition(b).type = { coding: [{ system: 'http://loinc.org', code: '10223-4' }] }),
    ],
    [
      'a resource that nothing in it refers to',
      'strayFaults',
      (b) => b.entry?.push({ fullUrl: 'urn:uuid:1', resource: { resourceType: 'Device' } }),
    ],
    ['an empty string', 'emptyFaults', (b) => (procedure(b).code = { text: '' })],
  ])('%s (%s)', (_, name, change) => expect(checkers[name](broken(change))).not.toEqual([]));
});

describe.each(Object.keys(cases))('the document of the case %s', (name) => {
  const bundle = bundleOf(cases[name] as Entry[]);
  it.each(Object.keys(checkers) as (keyof typeof checkers)[])('passes %s', (checker) =>
    expect(checkers[checker](bundle)).toEqual([]),
  );
});

describe('the document of any log', () => {
  it('passes what is quick to check', () => {
    explore(
      fc.property(randomLog, (log) => {
        const bundle = bundleOf(log);
        for (const faults of [structureFaults, choiceFaults, referenceFaults, codeFaults, emptyFaults, strayFaults])
          expect(faults(bundle)).toEqual([]);
      }),
      { numRuns: 20 },
    );
  });
  it('passes the schema and the document rules', () => {
    explore(
      fc.property(randomLog, (log) => {
        expect(schemaFaults(bundleOf(log))).toEqual([]);
        expect(invariantFaults(bundleOf(log))).toEqual([]);
      }),
      { numRuns: 4 },
    );
  });
});

describe('what the document says', () => {
  const bundle = bundleOf(leftBehind);

  it('is of a patient without identifiers, "not recorded"', () => {
    const [composition] = of<Composition>(bundle, 'Composition');
    expect(composition?.subject?.display).toBe('not recorded');
    expect(of<object>(bundle, 'Patient').map(Object.keys)).toEqual([['resourceType', 'text']]);
  });

  it('has one Procedure for each move, part of the operation', () => {
    const [operation, ...steps] = of<Procedure>(bundle, 'Procedure');
    const address = bundle.entry?.find(({ resource }) => resource === operation)?.fullUrl;
    expect(steps).toHaveLength(leftBehind.filter(({ type }) => type === 'move-started').length);
    expect(steps.map(({ partOf }) => partOf?.[0]?.reference)).toEqual(steps.map(() => address));
    expect(steps.map(({ status }) => status)).toEqual([
      'completed',
      'completed',
      'stopped',
      'stopped',
      'completed',
      'stopped',
    ]);
  });

  it('has a head drilled off on purpose as a step completed, one that broke as a step stopped', () => {
    const sheared = (move: string) => {
      const [opening, screw] = easyPlate.filter(({ type }) => type === 'case-opened' || type === 'screw-listed');
      const moves = [
        { type: 'work-started' },
        { type: 'move-started', screw: '1', move },
        { type: 'move-ended', screw: '1', outcome: 'head-sheared' },
      ];
      return bundleOf(written([opening, { ...screw, stage: 'recess-stripped' }, ...moves] as Written[]));
    };
    const step = (move: string) => of<Procedure>(sheared(move), 'Procedure')[1]?.status;
    expect([step('drill-head-off'), step('conical-extractor')]).toEqual(['completed', 'stopped']);
  });

  it('has a Device and its use for each piece that stays, and none for a screw that is out', () => {
    expect(of(bundle, 'DeviceUseStatement')).toHaveLength(2);
    expect(of(bundleOf(cases.easyPlate as Entry[]), 'DeviceUseStatement')).toHaveLength(0);
  });

  it('has a Provenance for the log and one for each entry, by what it did to the record', () => {
    const entries = cases.untidy as Entry[];
    const [log, ...told] = of<Provenance>(bundleOf(entries), 'Provenance');
    const codeOf = ({ activity }: Provenance) => activity?.coding?.[0]?.code;
    expect(codeOf(log as Provenance)).toBe('CREATE');
    expect(told).toHaveLength(entries.length);
    const by = (n: number) => told.find(({ entity }) => entity?.[0]?.what.display?.startsWith(`Entry ${n} of`));
    expect(entries.map(({ n }) => codeOf(by(n) as Provenance))).toEqual(
      entries.map(({ type }) => (type === 'struck' ? 'NULLIFY' : 'APPEND')),
    );
    // One late by nine minutes: when it happened and when it was entered.
    expect([by(14)?.occurredDateTime, by(14)?.recorded]).toEqual([
      '2026-02-17T09:05:30.000Z',
      '2026-02-17T09:13:00.000Z',
    ]);
    expect(by(11)?.entity?.[0]?.what.display).toContain('STRUCK by entry 12');
    expect(by(12)?.entity?.[1]).toEqual({ role: 'revision', what: { display: 'Entry 11 of the log' } });
  });

  it.each([
    ['leftBehind', 'preliminary'],
    ['signed', 'final'],
    ['amended', 'amended'],
  ])('%s is %s', (name, status) =>
    expect(of<Composition>(bundleOf(cases[name] as Entry[]), 'Composition')[0]?.status).toBe(status),
  );

  it('has the same ids for the same log, and others for another', () => {
    const again = fhirBundle(recordOf(leftBehind), content);
    expect(again.identifier).toEqual(bundle.identifier);
    expect(again.identifier).not.toEqual(bundleOf(leftBehind.slice(0, -1)).identifier);
  });

  // LOINC Users' Guide: the check digit is Mod 10; 10223-6 is right, 10223-4 is a misprint seen in the wild.
  it('reckons LOINC check digits', () =>
    expect([loincDigit('10223-6'), loincDigit('11504-8'), loincDigit('29554-3')]).toEqual([6, 8, 3]));
});
