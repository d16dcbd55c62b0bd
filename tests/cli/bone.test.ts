/** The bone command: its figures and its refusals. */
import { describe, expect, it } from 'vitest';
import { section } from '../../machines/compute/ring.ts';
import { run } from '../../src/commands.ts';
import { faults } from './files.ts';

const bone = (...args: string[]) => run(['bone', ...args]);
const at = (...bores: string[]) => bone('--outer', '27', '--cortex', '5', ...bores.flatMap((bore) => ['--bore', bore]));
const figures = async (...bores: string[]) => JSON.parse((await at(...bores)).stdout) as Record<string, unknown>;

describe('the bone command', () => {
  it('prints the figures of a 4.5 mm screw through a bone of 27/5 mm [Z9]', async () => {
    expect(await figures('both:4.5')).toEqual({
      intactArea: expect.closeTo(345.58, 2),
      cortexLost: expect.closeTo(0.1312, 4),
      bendingKept: expect.closeTo(0.7546, 3),
      torsionKept: expect.closeTo(0.693, 4),
      torsionBand: [expect.closeTo(0.623, 3), expect.closeTo(0.763, 3)],
      torsionTested: true,
      circumferenceLost: expect.closeTo(0.1066, 4),
      openSection: false,
    });
  });

  it('has nothing lost without a bore', async () => {
    expect(await figures()).toMatchObject({
      cortexLost: 0,
      bendingKept: 1,
      torsionKept: 1,
      circumferenceLost: 0,
      openSection: false,
    });
  });

  it('takes lengths, angles and several bores as a union', async () => {
    expect(await figures('near:6.5x40@30', 'far:5@-12.5', 'both:4.5')).toEqual(
      JSON.parse(
        JSON.stringify(
          section(27, 5, [
            { wall: 'near', diameter: 6.5, length: 40, turn: 30 },
            { wall: 'far', diameter: 5, turn: -12.5 },
            { wall: 'both', diameter: 4.5 },
          ]),
        ),
      ),
    );
    expect(await figures('near:6', 'near:6')).toEqual(await figures('near:6'));
    expect((await figures('near:5x27')).openSection).toBe(false);
    expect((await figures('near:5x27.1')).openSection).toBe(true);
    expect(await figures('near:6.2')).toMatchObject({ torsionTested: true });
    expect(await figures('near:6.3')).toMatchObject({ torsionTested: false });
  });

  it.each([
    '',
    '4.5',
    'near',
    'near:',
    'near:x',
    'side:4.5',
    'near:4.5x',
    'near:4.5@',
    'near:-4.5',
    'near:4.5x-3',
    'near:4.5 @30',
    'near:4.5@30x9',
    'near:4,5',
    'near:1e1',
    'near:NaN',
    'near:Infinity',
    'NEAR:4.5',
    'near:4.5,far:4.5',
    'near:.5',
    'near:5.',
  ])('refuses the bore "%s" by its place', async (bore) =>
    expect(faults(await at('both:4.5', bore))).toEqual([expect.stringMatching(/^--bore\[1\]: /)]),
  );

  it.each(['near:0', 'near:27', 'far:99', 'both:27.0'])(
    'refuses the bore "%s": of no width, or as wide as the bone',
    async (bore) => {
      expect(faults(await at(bore))).toEqual([expect.stringMatching(/^--bore\[0\]: /)]);
    },
  );

  it('refuses a number too large to be one', async () => {
    const digits = '9'.repeat(400);
    for (const bore of [`near:${digits}`, `near:4x${digits}`, `near:4@${digits}`])
      expect(faults(await at(bore))).toHaveLength(1);
    expect(faults(await bone('--outer', digits, '--cortex', '5'))).toHaveLength(1);
  });

  it.each([
    [['--cortex', '5'], '--outer: missing'],
    [['--outer', '27'], '--cortex: missing'],
    [['--outer', 'wide', '--cortex', '5'], '--outer: "wide" is not a length in mm greater than 0'],
    [['--outer', '0', '--cortex', '5'], '--outer: "0" is not a length in mm greater than 0'],
    [['--outer=-27', '--cortex', '5'], '--outer: "-27" is not a length in mm greater than 0'],
    [['--outer', '27', '--cortex', '0'], '--cortex: "0" is not a length in mm greater than 0'],
    [['--outer', '27', '--cortex', '13.5'], '--cortex: must be less than half the outer diameter'],
    [['--outer', '27', '--cortex', '5', 'tibia'], 'arguments: unexpected "tibia"'],
  ])('refuses %j', async (args, line) => expect(faults(await bone(...args))).toEqual([line]));

  it('refuses an unknown option', async () => {
    expect(faults(await bone('--outer', '27', '--cortex', '5', '--bores', 'near:3'))).toEqual([
      expect.stringMatching(/^arguments: /),
    ]);
  });
});
