/** What the papers tell of the bone and of the time after under the second ladder. */
import { beforeAll, describe, expect, it } from 'vitest';
import { loadContent } from '../../content/catalog.ts';
import { loadLanguage } from '../../content/languages.ts';
import type { Content } from '../../content/types.ts';
import type { EntryOf } from '../../machines/entry.ts';
import { loadLocale } from '../../src/record/locales/index.ts';
import { buildRecord, note, type CaseRecord } from '../../src/record/index.ts';
import type { Log } from '../machines/build.ts';
import { atTable, first, loose, second } from '../machines/ladder-2/build.ts';
import { flat, holes } from './helpers.ts';

beforeAll(async () => {
  await Promise.all([loadLanguage('de'), loadLocale('de')]);
});

const recordOf = ({ entries, folded, view }: Log, content = folded.content): CaseRecord =>
  buildRecord(entries, folded, view, content);
const paper = (log: Log, as: Parameters<typeof note>[0], content = log.folded.content) =>
  flat(note(as, recordOf(log, content), content));
const german = () => loadContent(second.version, 'de') as Content;
const sheared = { facts: { stage: 'head-sheared', underPlate: false }, ...loose } as const;
const gouged = (log: Log, screw = '1', more = {}) =>
  log.tries(screw, 'gouge-and-grip', 'no-change', { bores: [{ wall: 'near', diameter: 8.5, ...more }] });

describe('the bone in the papers', () => {
  it('stands as a section modulus in mm³, against a sound bone whose figures are from memory', () => {
    const log = gouged(atTable(sheared));
    const ring = Math.round(((Math.PI / 32) * (27 ** 4 - 17 ** 4)) / 27);
    const { modulus, ofSound } = log.view.bone?.levels['1'] ?? {};
    const after = `${Math.round(modulus as number)} mm³ after all that was made; intact ring ${ring} mm³`;
    const against = `Against a sound adult bone of that name, 1200 mm³ (from memory; low confidence; measure on a calibrated film): ${Math.round((ofSound as number) * 100)} %`;
    // Level by level it stands in the whole record: the first page has what is told of all levels.
    for (const as of ['text', 'still-in', 'markdown'] as const) {
      expect(paper(log, as), as).toContain(after);
      expect(paper(log, as), as).toContain(against);
    }
    expect(note('fhir', recordOf(log), log.folded.content)).toContain(`intact ring ${ring} mm³`);
    expect(paper(log, 'patient')).not.toContain('mm³');
    expect(paper(log, 'text', german())).toContain('Widerstandsmoment in der schwächsten Richtung');
  });

  it('names the weakest level, and where there is no figure', () => {
    const log = gouged(atTable(sheared).screw('2').screw('3').bone(15, 3, { screw: '2' }));
    log.bone(30, 3, { screw: '3', place: 'near-joint' });
    const least = Math.round(log.view.bone?.levels['2']?.modulus as number);
    expect(paper(log, 'text')).toContain(
      `Weakest of the 2 levels with figures, by section modulus: screw 2, ${least} mm³; no figures at screw 3`,
    );
    expect(paper(log, 'text')).toContain('Near a joint: not modelled here, no share');
    expect(paper(log, 'still-in')).toContain('Near a joint: not modelled here, no share');
  });

  it('is not modelled any more once it broke, in no paper', () => {
    const log = gouged(atTable(sheared)).write({ type: 'event', kind: 'bone-broke' });
    for (const as of ['text', 'brief', 'still-in', 'markdown', 'fhir'] as const) {
      const told = paper(log, as);
      expect(told, as).toContain('broken, not modelled');
      expect(told, as).not.toMatch(/Cortical ring lost|Section modulus in|strength kept in|Torsional strength kept/);
      expect(told, as).not.toMatch(/The loss reaches/);
    }
    expect(paper(log, 'text', german())).toContain('gebrochen, nicht berechnet');
  });

  it('asks about openings that may meet and holes off the plate, and never adds them up', () => {
    const log = atTable(sheared).screw('2', sheared.facts);
    gouged(gouged(log, '1', { length: 30 }), '2', { length: 30 });
    expect(paper(log, 'text')).toContain(
      'whether they run into another was not recorded; each level is reckoned by itself',
    );
    expect(paper(log, 'text')).toContain('Holes away from the plate and at the end of metal that stays: not recorded');
    log.finds('1', { openingsMeet: true }).write({ type: 'hole-seen', where: 'off-plate', diameter: 3.2, screw: '2' });
    expect(paper(log, 'text')).toContain('Its opening runs into that at another screw: not reckoned, no figure');
    expect(paper(log, 'text')).toContain('A hole of 3.2 mm away from the plate, at screw 2: not in these figures');
  });

  it('says of torsion beyond the tested range that it was not tested there', () => {
    const log = atTable({ ...loose, facts: { diameter: 7.3 } });
    expect(paper(log, 'text')).toContain('not tested there, the band widens');
    expect(paper(log, 'text')).not.toContain('beyond the tested range');
  });

  it('never tells the own hole of a screw as a limit reached', () => {
    const log = atTable({ ...loose, facts: { diameter: 7.3 } }).bone(14, 3);
    expect(log.view.bone?.levels['1']?.cortexLost).toBeGreaterThan(0.3);
    expect(paper(log, 'text')).not.toMatch(/The loss reaches/);
  });

  it('has no holes in any form and language', () => {
    const log = gouged(atTable(sheared).screw('2', { diameter: null })).write({
      ...{ type: 'aftercare', line: 'new-pain', state: 'accepted' },
    });
    for (const content of [second, german()])
      for (const as of ['text', 'brief', 'still-in', 'patient'] as const)
        expect(paper(log, as, content)).not.toMatch(holes);
  });
});

describe('the time after in the papers', () => {
  const aftercare = (more: Omit<EntryOf<'aftercare'>, 'n' | 'at' | 'logged' | 'type'>) =>
    ({ type: 'aftercare', ...more }) as const;
  const pain = 'New pain or a give at the site: come back at once, no load until seen';
  /** The same line as the patient reads it. */
  const plainly = 'If it hurts in a new way or gives way, come back at once.';
  const words = (as: string) => (as === 'patient' ? plainly : pain);
  const closed = () => atTable({ ...loose }).tries('1', 'turn-out', 'out', { recovered: 36 });
  const forms = ['text', 'brief', 'still-in', 'patient'] as const;

  it('is nothing that nobody accepted', () => {
    for (const as of forms) expect(paper(closed(), as), as).not.toContain('come back at once');
    expect(paper(closed(), 'text')).toContain('Accepted by the surgeon: not recorded');
    expect(paper(closed(), 'patient')).toContain('The surgeon put nothing on this page about the time after.');
  });

  it('is what was accepted, in every form that a patient or the next surgeon reads; to the patient in plain words', () => {
    const log = closed().write(aftercare({ line: 'new-pain', state: 'accepted' }));
    for (const as of forms) expect(paper(log, as), as).toContain(words(as));
    expect(paper(log, 'patient', german())).not.toContain(plainly);
    expect(paper(log, 'patient', german())).toContain('Tut es neu weh, oder gibt es nach?');
    expect(paper(log, 'still-in', german())).toContain(
      german().aftercare.find(({ id }) => id === 'new-pain')?.text as string,
    );
  });

  it('is the last word on a line: changed to other words, dropped, or taken back', () => {
    const log = closed().write(aftercare({ line: 'new-pain', state: 'accepted' }));
    log.write(aftercare({ line: 'new-pain', text: 'New pain: ring the ward', state: 'changed' }));
    for (const as of forms) {
      const told = paper(log, as);
      expect(told.match(/New pain: ring the ward/g), as).toHaveLength(as === 'text' ? 2 : 1);
      if (as !== 'text') expect(told, as).not.toContain(words(as));
    }
    const dropped = log.fork().write(aftercare({ line: 'new-pain', state: 'dropped' }));
    for (const as of forms.slice(1)) expect(paper(dropped, as), as).not.toMatch(/New pain|in a new way/);
    log.strikes(log.n);
    for (const as of forms) expect(paper(log, as), as).toContain(words(as));
  });

  it('takes words of the surgeon, and says of a line of another content that it has no words for it', () => {
    const log = closed().write(aftercare({ text: 'Crutches until seen', state: 'accepted' }));
    log.write(aftercare({ line: 'line-of-elsewhere', state: 'accepted' }));
    for (const as of forms) {
      expect(paper(log, as)).toContain('Crutches until seen');
      expect(paper(log, as)).toContain('A line that this content does not have (line-of-elsewhere)');
    }
    log.write(aftercare({ text: 'Crutches until seen', state: 'dropped' }));
    expect(paper(log, 'patient')).not.toContain('Crutches');
  });

  it('is no section under the first release', () => {
    const log = atTable({ content: first, tools: ['driver-hexagonal'] });
    expect(paper(log, 'text')).not.toContain('The time after');
    expect(paper(log, 'patient')).not.toContain('The time after');
  });
});
