/** How long a piece that stays is said to be: as long as somebody measured, or as the account can say, never else. */
import { describe, expect, it } from 'vitest';
import type { EntryOf } from '../../machines/entry.ts';
import { papersOf, Story } from './situations.ts';

const where = { where: 'far wall', reason: 'too deep' } as const;
const broken = (more: Partial<EntryOf<'move-ended'>> = {}) =>
  new Story()
    .atWork()
    .begins('10:10', '1', 'turn-out')
    .ends('10:12', '1', 'shank-broke', { reachable: false, ...more });
const measured = (recovered: number) => ({ recovered, lengthHow: 'measured' }) as const;
/** The size of what stays, and where it lies, by the record. */
const sizes = (story: Story) =>
  papersOf(story.entries)
    .section('stays-in')
    .filter((one) => /^(Size|Lies)/.test(one));

describe('the length of what is in', () => {
  it.each([
    [
      'of a screw that nobody touched is that of the list',
      new Story().atWork(),
      'about 36 mm long (by the account, not measured)',
    ],
    ['of one of which nothing was measured is not known', broken(), 'length not known'],
    [
      'of one of which 24 mm came out is the rest',
      broken(measured(24)),
      'about 12 mm long (by the account, not measured)',
    ],
    ['of one whose pieces make up its length is not known', broken(measured(35)), 'length not known'],
  ])('%s', (_, story, words) => expect(sizes(story)).toEqual([`Size: 4.5 mm diameter, ${words}`]));

  it.each([
    ['measured', 12, 'measured', '12 mm long'],
    ['read from an image', 12, 'image', 'about 12 mm long (from an image, not measured)'],
    ['found by difference', 12, 'difference', 'about 12 mm long (by the account, not measured)'],
  ] as const)('of a piece left in and %s says so', (_, length, lengthHow, words) => {
    const story = broken(measured(24)).tell('10:30', {
      ...({ type: 'left-in', screw: '1', length, lengthHow, imageTaken: true } as const),
      ...where,
    });
    expect(sizes(story)).toEqual([`Size: 4.5 mm diameter, ${words}`]);
  });

  it('of a piece left in with all of the length on the table is not 0 mm', () => {
    const story = broken(measured(24)).tell('10:30', { type: 'left-in', screw: '1', length: null, ...where });
    story.tell('10:31', { type: 'piece-recovered', screw: '1', length: 12, lengthHow: 'measured' });
    expect(sizes(story)).toEqual([
      'Size: 4.5 mm diameter; its measured pieces make up its length, and nobody said that all of it is out',
    ]);
  });
});

describe('where a piece lies', () => {
  it('is reckoned from what was measured, and not at all where a piece that came off was not', () => {
    const stood = (story: Story) => sizes(story.tell('10:13', { type: 'found', screw: '1', nearSurface: 1 }));
    expect(stood(broken(measured(24)))).toHaveLength(2);
    expect(stood(broken())).toEqual(['Size: 4.5 mm diameter, length not known']);
  });
});

describe('what was left in and is out since', () => {
  const left = () => broken(measured(24)).tell('10:30', { type: 'left-in', screw: '1', length: null, ...where });
  const all = { type: 'piece-recovered', screw: '1', length: 12, lengthHow: 'measured', complete: true } as const;
  const isTold = (story: Story) =>
    /(?:screw 1 is still in|screw 1 was said to stay in)/i.test(papersOf(story.entries).patient);

  it('stands on no page for the patient, whether it was found before the case was closed or after [Z39]', () => {
    expect(isTold(left())).toBe(true);
    expect(isTold(left().tell('10:31', all))).toBe(false);
    const closed = left().tell('10:32', { type: 'work-ended' }).tell('10:33', { type: 'case-closed' });
    expect(isTold(closed)).toBe(true);
    expect(isTold(closed.tell('1+08:00', all))).toBe(false);
  });

  it('and found to stay after all, once the case was closed, stands there again', () => {
    const out = new Story()
      .atWork()
      .begins('10:10', '1', 'turn-out')
      .ends('10:12', '1', 'out')
      .tell('10:32', { type: 'work-ended' })
      .tell('10:33', { type: 'case-closed' });
    expect(isTold(out)).toBe(false);
    expect(isTold(out.tell('1+08:00', { type: 'left-in', screw: '1', length: null, ...where }))).toBe(true);
  });
});
