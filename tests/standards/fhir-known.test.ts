/**
 * What the FHIR document says is what somebody entered: metal is `active` only where it is known to stay and `inactive`
 * only where it is out, a procedure is over only where the case was closed, and what nobody said is unknown.
 */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Bundle, Composition, Device, DeviceUseStatement, PractitionerRole, Procedure, Provenance } from 'fhir/r4';
import { loadContent } from '../../content/catalog.ts';
import type { Content } from '../../content/types.ts';
import { readCase } from '../../machines/case-file.ts';
import type { Entry } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { verify } from '../../machines/seal.ts';
import { view } from '../../machines/view.ts';
import { demoDrafts } from '../../src/session/demo.ts';
import { buildRecord } from '../../src/record/build.ts';
import { fhirBundle } from '../../src/record/index.ts';
import type { CaseRecord } from '../../src/record/model.ts';
import { cases, content, recordOf, written, type Written } from '../record/cases.ts';
import { randomLog } from '../record/random-log.ts';
import { papersOf, Story } from '../record/situations.ts';
import { explore } from '../explore.ts';
import {
  choiceFaults,
  codeFaults,
  emptyFaults,
  invariantFaults,
  referenceFaults,
  schemaFaults,
  strayFaults,
  structureFaults,
} from './fhir-checks.ts';

const of = <T>(bundle: Bundle, type: string) =>
  (bundle.entry ?? []).flatMap(({ resource }) => (resource?.resourceType === type ? [resource as T] : []));
const documentOf = (record: CaseRecord) => {
  const bundle = fhirBundle(record, content);
  const procedures = of<Procedure>(bundle, 'Procedure');
  const named = (name: string) =>
    of<Device>(bundle, 'Device').find(({ deviceName }) => deviceName?.[0]?.name.startsWith(name));
  return {
    bundle,
    operation: procedures.find(({ partOf }) => !partOf) as Procedure,
    steps: procedures.filter(({ partOf }) => partOf),
    device: named,
    uses: of<DeviceUseStatement>(bundle, 'DeviceUseStatement'),
    composition: of<Composition>(bundle, 'Composition')[0] as Composition,
    addressOf: (one: unknown) => bundle.entry?.find(({ resource }) => resource === one)?.fullUrl,
  };
};
const ofStory = (story: Story, language?: 'de') => documentOf(papersOf(story.entries, language).record);
const atWork = () => new Story().atWork();
const out = () =>
  atWork().begins('10:10', '1', 'turn-out').ends('10:12', '1', 'out', { recovered: 36, lengthHow: 'measured' });
const over = (story: Story) => story.tell('10:50', { type: 'work-ended' }).tell('10:55', { type: 'case-closed' });

describe('the operation', () => {
  it('is named by what it is, with side and bone, whatever tool was used', () => {
    const { operation } = ofStory(over(out()));
    expect(operation.code?.text).toBe('Removal of metalwork (plate) from LEFT tibia');
    expect(operation.bodySite).toEqual([{ text: 'LEFT tibia' }]);
    expect(JSON.stringify(operation.code)).not.toMatch(/driver|coding/);
    expect(ofStory(over(out()), 'de').operation.code?.text).toBe('Metallentfernung (Platte), Tibia LINKS');
  });

  it.each<[string, Story | null, Procedure['status']]>([
    ['unknown of an empty log', null, 'unknown'],
    ['in preparation before work begins', new Story().opened().screw('10:01', '1'), 'preparation'],
    ['in progress while the case is open', out(), 'in-progress'],
    [
      'in progress when work ended and the case is not closed',
      out().tell('10:50', { type: 'work-ended' }),
      'in-progress',
    ],
    ['completed when the case was closed', over(out()), 'completed'],
    ['stopped when work was stopped and the case closed', over(out().tell('10:40', { type: 'stopped' })), 'stopped'],
    [
      'unknown when the case was closed and nobody entered that work had begun',
      new Story().opened().tell('10:55', { type: 'case-closed' }),
      'unknown',
    ],
  ])('is %s', (_, story, status) => {
    const { operation } = story ? ofStory(story) : documentOf(recordOf([]));
    expect(operation.status).toBe(status);
    if (status === 'unknown' || status === 'preparation') {
      expect(operation).not.toHaveProperty('performedPeriod');
      expect(operation).not.toHaveProperty('outcome');
      expect(operation).not.toHaveProperty('focalDevice');
    }
  });

  it('says why it was stopped, or that nobody said', () => {
    const stopped = (more: object) => ofStory(over(out().tell('10:40', { type: 'stopped', ...more }))).operation;
    expect(stopped({ reason: 'bleeding' }).statusReason?.text).toBe('bleeding');
    expect(stopped({}).statusReason?.text).toBe('reason not recorded');
  });

  it('has as outcome what is out, what stays and the count, and of a count that nobody answered that it is not recorded', () => {
    expect(ofStory(over(out())).operation.outcome?.text).toMatch(
      /1 of 1 listed screw out\..*Account answered: not recorded\./,
    );
    const left = over(
      atWork().tell('10:20', { type: 'left-in', screw: '1', length: null, where: 'shaft', reason: 'too deep' }),
    );
    expect(ofStory(left).operation.outcome?.text).toContain('Stays in: screw 1');
  });

  it('says of a screw that nobody told the end of that it is in or out, not that it stays', () => {
    const { operation, device, uses } = ofStory(over(atWork()));
    expect(operation.outcome?.text).toContain('In or out, not known: screw 1');
    expect(operation.outcome?.text).not.toContain('Stays in');
    expect(device('Screw 1')?.status).toBe('unknown');
    expect(uses).toEqual([]);
    // Nobody touched it.
    expect(JSON.stringify(operation.focalDevice ?? '')).not.toContain('manipulated');
  });

  it.each<[string, Written[], string[]]>([
    ['none where nobody entered one', [], []],
    [
      'none where the team wrote that none was seen',
      [{ type: 'note-field', field: 'complications', text: 'None seen' }],
      [],
    ],
    ['none where the item does not apply', [{ type: 'note-field', field: 'complications', notApplicable: true }], []],
    [
      'each that the team wrote, and what broke, but no slip',
      [
        { type: 'move-started', screw: '1', move: 'turn-out' },
        { type: 'move-ended', screw: '1', outcome: 'slipped' },
        { type: 'move-started', screw: '1', move: 'grip-head' },
        { type: 'move-ended', screw: '1', outcome: 'shank-broke', reachable: false, recovered: 10 },
        { type: 'note-field', field: 'complications', text: 'nerve or vessel hurt; wound torn' },
      ] as Written[],
      ['nerve or vessel hurt', 'wound torn', '1 broken shank (screw 1)'],
    ],
  ])('has as complications %s', (_, more, complications) => {
    const opening = (cases.easyPlate ?? []).filter(({ type }) =>
      ['case-opened', 'screw-listed', 'work-started'].includes(type),
    );
    const { operation } = documentOf(
      recordOf(
        written(
          [...(opening as Written[]), ...more].map(({ ...one }) => {
            for (const key of ['n', 'at', 'logged', 'seal']) delete (one as Record<string, unknown>)[key];
            return one;
          }),
        ),
      ),
    );
    expect((operation.complication ?? []).map(({ text }) => text)).toEqual(complications);
  });

  it('refers to each tool that was named, once, and says of how many moves none was', () => {
    const { operation, steps, bundle } = documentOf(recordOf(cases.leftBehind ?? []));
    const tools = (operation.usedReference ?? []).map(({ display }) => display);
    expect(tools).toEqual(['reverse-thread tap', 'hexagonal driver', 'hard-metal drill']);
    expect(steps.filter(({ usedReference }) => usedReference)).toHaveLength(3);
    expect(operation.note?.map(({ text }) => text).join(' ')).toContain('3 ');
    const known = new Map(bundle.entry?.map(({ fullUrl, resource }) => [fullUrl, resource]));
    for (const { reference, display } of operation.usedReference ?? [])
      expect((known.get(reference) as Device).deviceName?.[0]?.name).toBe(display);
  });

  it('tells in its narrative what the page that is signed tells', () => {
    for (const entries of Object.values(cases)) {
      const record = recordOf(entries);
      const { operation, composition } = documentOf(record);
      for (const { text } of record.facts.done) {
        const shown = text
          .replaceAll('&', '&amp;')
          .replaceAll('<', '&lt;')
          .replaceAll('>', '&gt;')
          .replaceAll('"', '&quot;');
        expect(operation.text?.div).toContain(shown);
        expect(composition.text?.div).toContain(shown);
      }
    }
  });

  it('keeps the side that stood at the opening beside the corrected one, also after signing', () => {
    const { operation, composition } = ofStory(
      over(out())
        .tell('11:00', { type: 'signed', who: 'R. Invented', role: 'surgeon', meaning: 'read', rules: 2 })
        .tell('11:10', { type: 'case-corrected', side: 'right', reason: 'wrong in the tablet' }),
    );
    expect(operation.bodySite).toEqual([{ text: 'RIGHT tibia' }]);
    expect(operation.code?.text).toContain('RIGHT tibia');
    expect(operation.note?.map(({ text }) => text).join(' ')).toContain('LEFT');
    expect(composition.status).toBe('amended');
  });
});

describe('the metal', () => {
  it('that was said to stay is active and has a use; that came out is inactive and has none', () => {
    const { device, uses, addressOf } = ofStory(
      over(atWork().tell('10:20', { type: 'left-in', screw: '1', length: null, where: 'shaft', reason: 'too deep' })),
    );
    expect(device('Screw 1')?.status).toBe('active');
    // It stays as it was listed: its own resource stands for it, not a piece besides.
    expect(uses.map(({ device: { reference } }) => reference)).toEqual([addressOf(device('Screw 1'))]);
    expect(uses[0]).not.toHaveProperty('timingDateTime');
    const gone = ofStory(over(out()));
    expect(gone.device('Screw 1')?.status).toBe('inactive');
    expect(gone.uses).toEqual([]);
  });

  it('of which a piece is missing is unknown, with the piece, and explanted is not said of it', () => {
    const { device, operation, uses } = documentOf(recordOf(cases.shortScrew ?? []));
    expect(device('Screw 1')?.status).toBe('unknown');
    expect(device('screw 1:')?.status ?? device('16 mm')?.status).toBe('unknown');
    expect(JSON.stringify(operation.focalDevice)).not.toContain('explanted');
    expect(uses).toEqual([]);
  });

  it('has a plate of which nobody spoke as unknown', () => {
    expect(ofStory(over(out())).device('The plate')?.status).toBe('unknown');
    const off = over(out().tell('10:45', { type: 'part-ended', part: 'plate', end: 'out', complete: true }));
    expect(ofStory(off).device('The plate')?.status).toBe('inactive');
  });

  it('never calls a length measured that was not', () => {
    const { bundle } = documentOf(recordOf(cases.leftBehind ?? []));
    const lengths = of<Device>(bundle, 'Device').flatMap(({ property = [] }) =>
      property.flatMap(({ type, valueQuantity }) =>
        valueQuantity ? [`${type.text}: ${valueQuantity[0]?.value}`] : [],
      ),
    );
    expect(lengths.filter((one) => one.startsWith('length, measured'))).toEqual(['length, measured: 6']);
    expect(lengths).toContain('length, not measured: from an image, as listed or by difference: 16');
  });

  it('found out after closing is no part of what was done', () => {
    const left = atWork().tell('10:20', {
      ...({ type: 'left-in', screw: '1', length: null, where: 'shaft', reason: 'too deep' } as const),
    });
    const { operation, device, uses } = ofStory(
      over(left).tell('11:30', { type: 'piece-recovered', screw: '1', whole: true }),
    );
    expect(device('Screw 1')?.status).toBe('inactive');
    expect(uses).toEqual([]);
    expect(JSON.stringify(operation.focalDevice ?? '')).not.toContain('explanted');
  });

  it('is active only where the record says that it stays, inactive only where nothing of it does, in any log', () => {
    explore(
      fc.property(randomLog, (log) => {
        const record = recordOf(log);
        const { stillIn } = record.facts;
        const { device, uses, operation } = documentOf(record);
        expect(uses).toHaveLength(stillIn.filter(({ kind }) => kind === 'left' || kind === 'put-in').length);
        for (const { id } of record.facts.screws) {
          const pieces = stillIn.filter(({ screw }) => screw === id);
          const status = device(record.language === 'en' ? `Screw ${id}` : '')?.status;
          if (pieces.some(({ kind }) => kind === 'unaccounted' || kind === 'not-ended')) expect(status).toBe('unknown');
          if (status === 'inactive') expect(pieces).toEqual([]);
        }
        if (operation.status === 'completed' || operation.status === 'stopped')
          expect(log.some(({ type }) => type === 'case-closed')).toBe(true);
      }),
      { numRuns: 25 },
    );
  });
});

describe('those who signed', () => {
  const signed = (more: object) =>
    ofStory(
      over(out()).tell('11:00', {
        type: 'signed',
        who: 'R. Invented',
        role: 'surgeon',
        meaning: 'read',
        rules: 2,
        ...more,
      } as never),
    );

  it('attest it, and are its authors; the one listed in that role is the one who signed', () => {
    const { bundle, composition, addressOf } = signed({});
    const [as] = of<PractitionerRole>(bundle, 'PractitionerRole');
    expect(as?.code).toEqual([{ text: 'surgeon' }]);
    expect(composition.attester?.map(({ party }) => party?.reference)).toEqual([addressOf(as)]);
    expect(composition.author.map(({ reference }) => reference)).toContain(addressOf(as));
    expect(of(bundle, 'Practitioner')).toHaveLength(2);
    // Nobody signed: those listed are no authors.
    expect(ofStory(over(out())).composition.author).toHaveLength(1);
  });

  it('by a name typed by hand are somebody besides those listed, and it says so', () => {
    const { bundle, composition } = signed({ who: 'S. Else', role: 'other' });
    expect(of(bundle, 'Practitioner')).toHaveLength(3);
    expect(composition.attester?.[0]?.party?.display).toBe(
      'S. Else, signed as other; name typed by hand, not among the people listed',
    );
    expect(composition.attester?.[0]?.mode).toBe('personal');
  });

  it('give no digital signature: a name and a hash are none', () => {
    const { bundle } = signed({ textHash: 'a'.repeat(64) });
    const told = of<Provenance>(bundle, 'Provenance');
    expect(told.filter(({ signature }) => signature)).toEqual([]);
    expect(told.at(-1)?.entity?.at(-1)?.what.display).toContain('a'.repeat(64));
    expect(told.at(-1)?.agent.map(({ type }) => type?.coding?.[0]?.code)).toEqual(['attester', 'enterer']);
  });
});

it('names those who called and who entered it only where somebody said so', () => {
  const { bundle } = ofStory(
    atWork()
      .tell('10:20', { type: 'washed-out', calledBy: 'surgeon', loggedBy: 'circulating' })
      .tell('10:21', { type: 'washed-out' }),
  );
  const agents = of<Provenance>(bundle, 'Provenance')
    .slice(-2)
    .map(({ agent }) => agent.map(({ type, who }) => `${type?.coding?.[0]?.code} ${who.display}`));
  expect(agents).toEqual([['informant surgeon', 'enterer circulating nurse'], ['enterer not recorded']]);
});

describe('the document in German and of whole cases', () => {
  const checks = [
    structureFaults,
    invariantFaults,
    choiceFaults,
    referenceFaults,
    codeFaults,
    emptyFaults,
    strayFaults,
  ];
  const german = loadContent('2026.1', 'de') as Content;
  const isGerman = (bundle: Bundle) => JSON.stringify(bundle).includes('nicht eingetragen');
  const inLanguage = (log: readonly Entry[], spoken: Content) => {
    const folded = fold(log, spoken);
    return fhirBundle(buildRecord(log, folded, view(folded, undefined, verify(log)), spoken), spoken);
  };

  it.each(Object.keys(cases))('passes every check in German, of the case %s', (name) => {
    const bundle = inLanguage(cases[name] ?? [], german);
    expect(isGerman(bundle)).toBe(true);
    for (const faults of [...checks, schemaFaults]) expect(faults(bundle)).toEqual([]);
  });

  it.each(['easy-plate', 'hard-plate', 'nail-bolt'])(
    'passes every check in both languages, of the kept case %s',
    (name) => {
      const file = readFileSync(new URL(`../golden/${name}.case.json`, import.meta.url), 'utf8');
      const read = readCase(JSON.parse(file), loadContent);
      if ('faults' in read) throw new Error(read.faults.map(({ message }) => message).join('\n'));
      for (const language of ['en', 'de'] as const) {
        const spoken = loadContent(read.file.contentVersion, language) as Content;
        const bundle = inLanguage(read.file.entries, spoken);
        for (const faults of [...checks, schemaFaults]) expect(faults(bundle)).toEqual([]);
      }
    },
  );

  it('passes every check in both languages, of the demonstration played to its end', () => {
    const story = demoDrafts().reduce((all, draft) => all.tell('10:00', draft), new Story());
    if (!story.entries.some(({ type }) => type === 'work-started')) story.tell('10:05', { type: 'work-started' });
    over(story.begins('10:10', '1', 'turn-out').ends('10:12', '1', 'out'));
    for (const language of ['en', 'de'] as const) {
      const bundle = inLanguage(story.entries, loadContent('2026.1', language) as Content);
      for (const faults of [...checks, schemaFaults]) expect(faults(bundle)).toEqual([]);
    }
  });

  it('passes what is quick to check in German, of any log', () => {
    explore(
      fc.property(randomLog, (log) => {
        const bundle = inLanguage(log, german);
        for (const faults of checks) expect(faults(bundle)).toEqual([]);
      }),
      { numRuns: 10 },
    );
  });
});
