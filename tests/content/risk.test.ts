/** The risk file: every row whole, every control that is said to be proven proven, and nothing said to help that is words alone. */
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { hazardsOf } from '../../content/hazards.ts';
import { RiskFile, riskFileOf, type RiskRow } from '../../content/risk.ts';
import { namedHazards } from './named-hazards.ts';

const { rows, scales, status } = riskFileOf('2026.2-draft') as RiskFile;
const row = (id: string) => rows.find((one) => one.id === id) as RiskRow;

describe('the risk file', () => {
  it('is there for the draft and the name it is released under, and for no other version', () => {
    expect(riskFileOf('2026.2')).toEqual(riskFileOf('2026.2-draft'));
    expect(['2026.1', 'constructor', ''].map(riskFileOf)).toEqual([undefined, undefined, undefined]);
  });

  it('says its scales, and that they are an estimate of this project', () => {
    expect([...Object.values(scales.severity), ...Object.values(scales.probability)]).toHaveLength(10);
    expect(status).toContain("this project's estimate");
  });

  it('is numbered without a gap, and carries every hazard of the release before it in its words', () => {
    expect(rows.map(({ id }) => id)).toEqual(rows.map((_, index) => `Z${index + 1}`));
    const before = hazardsOf('2026.1') ?? [];
    expect(before.length).toBeGreaterThanOrEqual(30);
    for (const { id, situation, cause, harm, tests } of before) {
      expect(row(id)).toMatchObject({ situation, cause, harm });
      expect(row(id).controls.flatMap((control) => control.tests)).toEqual(expect.arrayContaining(tests));
    }
  });

  it('has a row for everything that was found since', () => {
    const since = [
      ...['holds are answered', 'ready is shown', 'reassuring figure', 'drawn from counts', 'because it has begun'],
      ...['fracture, a non-union or an infection', 'tip is not looked for', 'beyond the far wall', "patient's page"],
      ...['never named', 'slips are left unlogged', 'quoted to the patient', 'germs, falls, or runs empty', '100 %'],
      ...['refused and nobody notices', 'is driven forward'],
    ];
    const situations = rows.slice(30).map(({ situation }) => situation.toLowerCase());
    expect(since.filter((words) => !situations.some((situation) => situation.includes(words)))).toEqual([]);
    expect(situations).toHaveLength(since.length);
  });

  it.each(rows)('$id, $situation: every test it names is there', ({ controls }) => {
    const named = controls.flatMap(({ tests }) => tests);
    expect(named.filter((id) => !namedHazards.has(`[${id}]`))).toEqual([]);
  });

  it('says of every row that nothing proves that it is not built, or that it is words alone', () => {
    const bare = rows.filter(({ controls }) => controls.every(({ tests }) => tests.length === 0));
    expect(bare.filter(({ residual }) => !/^(Not built yet: |Only words)/.test(residual))).toEqual([]);
    const proven = rows.filter((one) => !bare.includes(one));
    expect(proven.filter(({ residual }) => residual.startsWith('Not built yet'))).toEqual([]);
  });

  it('leaves accepting to a manufacturer or a hospital', () => {
    expect(rows.filter(({ acceptedBy }) => acceptedBy !== '')).toEqual([]);
  });

  it.each<[string, Partial<RiskRow>]>([
    ['is likelier with its controls', { before: 2, after: 3 }],
    [
      'is less likely by words alone',
      { before: 4, after: 3, controls: [{ kind: 'information', text: 'read it', tests: ['Z1'] }] },
    ],
    [
      'is less likely by what nothing proves',
      { before: 4, after: 3, controls: [{ kind: 'design', text: 'fixed places', tests: [] }] },
    ],
    ['has a severity beyond its scale', { severity: 6 }],
    ['has no control at all', { controls: [] }],
    ['says nothing of what remains', { residual: ' ' }],
  ])('is refused when a row %s', (_, change) => {
    const file = { scales, status, rows: [row('Z1')] };
    expect(v.is(RiskFile, file)).toBe(true);
    expect(v.is(RiskFile, { ...file, rows: [{ ...row('Z1'), ...change }] })).toBe(false);
  });
});
