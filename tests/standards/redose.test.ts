/** Redosing intervals against table 1 of the ASHP/IDSA/SIS/SHEA guideline 2013 (seen); hours, null = not given again. */
import { describe, expect, it } from 'vitest';
import { atTheTable, content } from '../machines/build.ts';

const table: [drug: string, dose: string, hours: number | null][] = [
  ['cefazolin', '2 g', 4],
  ['cefuroxime', '1.5 g', 4],
  ['cefotaxime', '1 g', 3],
  ['cefoxitin', '2 g', 2],
  ['cefotetan', '2 g', 6],
  ['ceftriaxone', '2 g', null],
  ['clindamycin', '900 mg', 6],
  ['vancomycin', '15 mg/kg', null],
  ['gentamicin', '5 mg/kg', null],
  ['ampicillin-sulbactam', '3 g', 2],
  ['ampicillin', '2 g', 2],
  ['aztreonam', '2 g', 4],
  ['piperacillin-tazobactam', '3.375 g', 2],
  ['metronidazole', '500 mg', null],
  ['ciprofloxacin', '400 mg', null],
  ['levofloxacin', '500 mg', null],
  ['moxifloxacin', '400 mg', null],
  ['ertapenem', '1 g', null],
  ['fluconazole', '400 mg', null],
];

describe('ASHP/IDSA/SIS/SHEA 2013, table 1', () => {
  it('has these drugs and no other', () =>
    expect(content.antibiotics.map(({ id }) => id).sort()).toEqual(table.map(([drug]) => drug).sort()));

  it.each(table)('%s, %s: again after %s h', (drug, dose, hours) => {
    const row = content.antibiotics.find(({ id }) => id === drug);
    expect(row?.redoseHours).toBe(hours);
    expect(row?.dose).toContain(dose);
    expect(content.sources.find(({ id }) => id === row?.source)).toMatchObject({
      status: 'seen',
      cite: expect.stringContaining('2013'),
    });
    const { antibioticDueMinutes } = atTheTable().write({ type: 'antibiotic', drug }).view.clocks;
    expect(antibioticDueMinutes).toBe(hours === null ? null : hours * 60);
  });
});
