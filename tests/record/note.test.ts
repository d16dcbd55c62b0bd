/** What the note says. */
import { execFileSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Entry } from '../../machines/entry.ts';
import { fold } from '../../machines/fold.ts';
import { sealAll, verify } from '../../machines/seal.ts';
import { view } from '../../machines/view.ts';
import { buildPatient, buildRecord, linesOf, note, pageText, recordFileName } from '../../src/record/index.ts';
import { wrap } from '../../src/record/text.ts';
import { localeOf } from '../../src/record/locales/index.ts';
import {
  cases,
  content,
  easyPlate,
  leftBehind,
  recordOf,
  shortScrew,
  signed,
  untidy,
  written,
  type Written,
} from './cases.ts';
import { explore } from '../explore.ts';
import { randomLog } from './random-log.ts';

import { flat, holes, textOf, valueOf } from './helpers.ts';

describe('the text note', () => {
  it.each(Object.keys(cases))('keeps to 80 columns in the case %s and ends with a new line', (name) => {
    const text = textOf(cases[name] as Entry[]);
    expect(text.split('\n').filter((line) => line.length > 80)).toEqual([]);
    expect(text).toMatch(/[^\n]\n$/);
  });

  it('keeps to 80 columns and has no hole in any log', () => {
    explore(
      fc.property(randomLog, (log) => {
        const text = textOf(log);
        expect(text.split('\n').filter((line) => line.length > 80)).toEqual([]);
        expect(text).not.toMatch(holes);
      }),
      { numRuns: 60 },
    );
  });

  it('breaks a word that is too long, never in the middle of a character, and keeps a number with its unit', () => {
    expect(wrap('😀'.repeat(50)).map((line) => [...line].length)).toEqual([40, 10]);
    expect(wrap(`${'a'.repeat(76)} 12 mm wide`)).toEqual(['a'.repeat(76), '12 mm wide']);
    expect(wrap('one two', '- ', '  ')).toEqual(['- one two']);
  });

  it('has the same bytes whatever the zone and the language of the machine', () => {
    const script = `import { cases, content, recordOf } from './cases.ts';
import { note, noteForms } from '../../src/record/index.ts';
const { timeZone, locale } = Intl.DateTimeFormat().resolvedOptions();
console.log(timeZone, locale);
for (const log of Object.values(cases)) for (const form of noteForms) console.log(note(form, recordOf(log), content));`;
    const run = (TZ: string, LANG: string) => {
      const said = execFileSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
        cwd: import.meta.dirname,
        env: { PATH: process.env.PATH, TZ, LANG, LC_ALL: LANG },
        maxBuffer: 1 << 26,
        encoding: 'utf8',
      });
      const end = said.indexOf('\n');
      return { machine: said.slice(0, end), notes: said.slice(end + 1) };
    };
    const runs = [run('UTC', 'C'), run('Asia/Kathmandu', 'ar_EG.UTF-8'), run('America/St_Johns', 'tr_TR.UTF-8')];
    expect(runs.map(({ machine }) => machine)).toEqual([
      expect.stringMatching(/^UTC en-US/),
      expect.stringMatching(/^Asia\/Kath?mandu ar-EG$/),
      'America/St_Johns tr-TR',
    ]);
    expect(runs[0]?.notes.length).toBeGreaterThan(100_000);
    expect(new Set(runs.map(({ notes }) => notes)).size).toBe(1);
  }, 60_000);
});

describe('what stays in', () => {
  it('stands right after the head, piece by piece [Z20]', () => {
    const record = recordOf(leftBehind);
    expect(record.sections[1]?.id).toBe('stays-in');
    expect(record.facts.stillIn.map(({ kind, what, size, decidedBy }) => ({ kind, what, size, decidedBy }))).toEqual([
      {
        kind: 'left',
        what: 'screw 3: a broken piece lying deep',
        size: '4.5 mm diameter, about 16 mm long (by the account, not measured)',
        // Format 1 had a constant there, which nobody had said.
        decidedBy: 'not recorded (version 1, not asked)',
      },
      {
        kind: 'left',
        what: 'a broken piece of the conical extractor',
        size: '6 mm long',
        decidedBy: 'not recorded (version 1, not asked)',
      },
    ]);
  });

  it('says what became of the plate, and does not take its silence for a yes [Z21]', () => {
    const plate = (entries: readonly Entry[]) => valueOf(recordOf(entries), 'stays-in', 'part-plate');
    // Format 1 told of a plate only that it was off, which it took for out.
    expect(plate(cases.easyPlate as Entry[])).toBe('out, taken off the bone at 10:18:00');
    expect(plate(shortScrew)).toBe('not recorded');
    expect(flat(pageText(buildPatient(recordOf(shortScrew), content)))).toContain(
      'It was not written down if the plate is out or still in',
    );
    const begun = { ...(shortScrew[0] as Entry), rules: 2, contentVersion: '2026.1' } as Entry;
    const off = { ...(shortScrew.at(-1) as Entry), type: 'plate-off' } as Entry;
    expect(plate([begun, { ...off, n: 2 }])).toMatch(/^taken off the bone at .*; whether it is out was not recorded$/);
  });

  it('names a screw that nobody ended, and metal that does not add up [Z18]', () => {
    expect(recordOf(untidy).facts.stillIn.map(({ kind, screw }) => [kind, screw])).toEqual([
      ['not-ended', '1'],
      ['not-ended', '-2+3'],
    ]);
    const [unbalanced] = recordOf(shortScrew).facts.stillIn;
    expect([unbalanced?.kind, unbalanced?.what]).toEqual([
      'unaccounted',
      'screw 1: its lengths do not add up, 16 mm not accounted for',
    ]);
  });

  it('never says "none" when nothing was listed [Z21]', () => {
    expect(textOf([])).toContain('No screw was listed and no piece was entered as left in: not recorded.');
  });
});

describe('silence', () => {
  it('reads "not recorded", and "not applicable" only when somebody said so [Z21]', () => {
    const record = recordOf(cases.easyPlate as Entry[]);
    expect(valueOf(record, 'operation', 'dvt-prophylaxis')).toBe('not applicable');
    expect(valueOf(record, 'operation', 'closure')).toBe('not recorded');
    expect(valueOf(record, 'operation', 'complications')).toBe('not recorded');
    expect(valueOf(record, 'told', 'told')).toBe('not recorded');
  });

  it('leaves no item blank in any log', () => {
    explore(
      fc.property(randomLog, (log) => {
        for (const { blocks } of recordOf(log).sections)
          for (const block of blocks)
            if (block.kind === 'item') for (const line of linesOf(block.value)) expect(line.trim()).not.toBe('');
      }),
      { numRuns: 30 },
    );
  });
});

describe('what the log knows by itself', () => {
  const record = recordOf(cases.easyPlate as Entry[]);
  it.each([
    ['tourniquet', 'from the log: up 10:11:00, down 10:21:00, 10 min; 250 mmHg'],
    ['antibiotic', 'from the log: cefazolin, 2 g, at 10:10:00'],
    ['blood-loss', 'from the log: 50 ml, entered at 10:22:00'],
    ['images', 'from the log: 4 images; dose 0.3 mGy'],
    ['extra', 'from the log: no move beyond turning out with the matched driver was entered'],
  ])('stands under %s', (id, line) => expect(valueOf(record, 'operation', id)).toBe(line));

  it('counts a tourniquet that is still up to the latest time in the log, whatever was entered last', () => {
    const late = { type: 'remark', text: 'about the time before', at: '2026-02-17T09:00:00.000+01:00' } as const;
    const up = written([easyPlate[0], { type: 'tourniquet', to: 'up' }, { type: 'work-started' }, late] as Written[]);
    expect(valueOf(recordOf(up), 'operation', 'tourniquet')).toContain('let-down not recorded, 1 min up to');
  });

  it('names the plate as taken out also where no screw is', () => {
    const log = written([easyPlate[0], { type: 'work-started' }, { type: 'plate-off' }] as Written[]);
    expect(valueOf(recordOf(log), 'operation', 'implants')).toBe('from the log: taken out: the plate');
  });

  it('has no hole for a screw called by a name that every object inherits', () => {
    const screw = easyPlate.find(({ type }) => type === 'screw-listed');
    const log = written([easyPlate[0], { ...screw, screw: 'constructor' }] as Written[]);
    expect(flat(textOf(log))).toContain('cortex 5 mm, assumed from the name of the bone, from memory');
  });

  it('prints the difference to the theatre clock and the jumps of its own [Z13]', () => {
    expect(valueOf(recordOf(leftBehind), 'clocks', 'theatre-clock')).toBe(
      'at 10:15:00 it read 10:17:05, 2 min 5 s ahead of this device',
    );
    expect(valueOf(recordOf(untidy), 'clocks', 'clock-jumps')).toBe(
      'at 10:15:00 back by 1 h 5 s; durations are corrected for it',
    );
  });

  it('names what was passed without an answer, and on whose word a hold was passed', () => {
    expect(valueOf(recordOf(leftBehind), 'holds', 'holds-unanswered')).toContain(
      '"Drive set to reverse?" at entry 18 (10:17:00)',
    );
    expect(valueOf(recordOf(leftBehind), 'holds', 'holds-answered')).toContain(
      'stop; on whose word: not recorded; reason: it stays in',
    );
  });

  it('sends the jammed tap and its screw to be parted, and the damaged tool to be replaced', () => {
    const text = flat(textOf(leftBehind));
    expect(text).toContain('Screw 1: came out with the tool jammed in it');
    expect(text).toContain('cool the tap alone with water');
    expect(valueOf(recordOf(leftBehind), 'sterile', 'restock')).toBe('Conical extractor');
  });
});

describe('draft, signed, amended', () => {
  it.each([
    ['leftBehind', 'draft'],
    ['signed', 'signed'],
    ['amended', 'amended'],
    ['empty', 'draft'],
  ])('%s is %s', (name, status) => expect(recordOf(cases[name] as Entry[]).facts.status).toBe(status));

  it('tells addendum, correction and later entry apart', () => {
    expect(recordOf(cases.amended as Entry[]).facts.changes.map(({ n, kind }) => [n, kind])).toEqual([
      [13, 'addendum'],
      [14, 'correction'],
      [15, 'entry after signing'],
    ]);
  });

  it('says draft in the title and the file name until it is signed', () => {
    expect(textOf(leftBehind)).toMatch(/^OPERATIVE RECORD: REMOVAL OF METALWORK \(DRAFT\)\n/);
    expect(recordFileName('csv', recordOf(leftBehind).facts)).toBe('counterturn-2026-02-17-unsealed-draft.csv');
    expect(recordFileName('text', recordOf(signed).facts)).toBe(
      `counterturn-2026-02-17-${signed.at(-1)?.seal?.slice(0, 8)}.txt`,
    );
  });
});

describe('the seal', () => {
  it('is told as whole, unsealed or broken at its entry, and that it stops no forger [Z15]', () => {
    expect(flat(textOf(signed))).toContain('Seal: whole');
    expect(flat(textOf(leftBehind))).toContain('Seal: UNSEALED');
    const edited = sealAll(untidy).map<Entry>((entry) =>
      entry.n === 5 ? { ...entry, at: '2026-02-17T10:03:30.000+01:00' } : entry,
    );
    const folded = fold(edited, content);
    const text = note('text', buildRecord(edited, folded, view(folded, undefined, verify(edited)), content), content);
    expect(flat(text)).toContain('Seal: BROKEN at entry 5');
    expect(flat(text)).toContain('it does not stop somebody who seals a forged log anew');
  });
});

describe('what comes again and again', () => {
  it('is told once, with how often', () => {
    expect(localeOf('en').tally(['a', 'b', 'a', 'c', 'a', 'b'])).toEqual(['a (3 times)', 'b (twice)', 'c']);
    const again: Written[] = [
      { type: 'move-started', screw: '1', move: 'hollow-ream' },
      { type: 'move-ended', screw: '1', outcome: 'no-change', bores: [{ wall: 'near', diameter: 8 }] },
    ];
    const facts = { diameter: 4.5, thread: 'cortical', locking: false, drive: 'hexagonal', material: 'steel' } as const;
    const place = { label: 'Theatre 2', zone: 'Europe/Oslo', side: 'right', bone: 'tibia' } as const;
    const record = recordOf(
      written([
        { type: 'case-opened', ...place, construct: 'plate', planned: 'Plate out' },
        { type: 'screw-listed', screw: '1', ...facts, length: 36, cortices: 2, stage: 'head-sheared' },
        { type: 'work-started' },
        ...again,
        ...again,
      ]),
    );
    expect(valueOf(record, 'operation', 'tissue')).toBe(
      'from the log: bone bored at screw 1: near wall 8 mm, as entered (twice)',
    );
  });
});
