/** Which lines for the time after a case is offered, and what was last said of each. */
import { describe, expect, it } from 'vitest';
import { lastWords, offeredLines } from '../../machines/aftercare.ts';
import type { EntryOf } from '../../machines/entry.ts';
import { first, second } from './ladder-2/build.ts';

const offered = (opened: Partial<EntryOf<'case-opened'>>) =>
  offeredLines(second, { bone: 'femur', construct: 'plate', ...opened } as never).map(({ id }) => id);
const word = (more: Partial<EntryOf<'aftercare'>>) =>
  ({ n: 1, at: '', logged: '', type: 'aftercare', state: 'accepted', ...more }) as EntryOf<'aftercare'>;

describe('lines for the time after', () => {
  it('are those of any bone and of its own, however its name is written', () => {
    const general = second.aftercare.filter(({ bone }) => bone === null).map(({ id }) => id);
    expect(offered({ bone: 'talus' })).toEqual(general);
    expect(offered({ bone: ' Tibia ' })).toEqual([...general, 'tibia-unknown']);
  });

  it('are of its kind of metal: a nail is not told of plates, nor a plate of nails', () => {
    expect(offered({})).toContain('femur-early');
    expect(offered({})).not.toContain('hip-nail');
    expect(offered({ construct: 'nail' })).toContain('hip-nail');
    expect(offered({ construct: 'nail' })).not.toContain('femur-early');
  });

  it('are of children where it is a child, or nobody said', () => {
    expect(offered({ patient: 'child' })).toContain('child-femur');
    expect(offered({})).toContain('child-femur');
    expect(offered({ patient: 'adult' })).toEqual(offered({}).filter((id) => id !== 'child-femur'));
  });

  it('are none by the first release', () => {
    expect(offeredLines(first, { bone: 'femur', construct: 'plate' })).toEqual([]);
  });

  it('stand as last said, in the order in which they were first spoken of', () => {
    const entries = [
      word({ line: 'new-pain' }),
      word({ text: 'Crutches' }),
      word({ line: 'new-pain', text: 'Ring the ward', state: 'changed' }),
      word({ text: 'Crutches', state: 'dropped' }),
      word({ line: 'of-elsewhere' }),
    ];
    expect(lastWords(entries, second)).toEqual([
      { line: 'new-pain', text: 'Ring the ward', state: 'changed' },
      { line: null, text: 'Crutches', state: 'dropped' },
      { line: 'of-elsewhere', text: null, state: 'accepted' },
    ]);
  });

  it('say what the content says of them, where nobody changed it, and in own words are as many as say something else', () => {
    const text = second.aftercare.find(({ id }) => id === 'new-pain')?.text;
    expect(text).toMatch(/pain/i);
    expect(
      lastWords([word({ text: 'Crutches' }), word({ line: 'new-pain' }), word({ text: 'Sling' })], second),
    ).toEqual([
      { line: null, text: 'Crutches', state: 'accepted' },
      { line: 'new-pain', text, state: 'accepted' },
      { line: null, text: 'Sling', state: 'accepted' },
    ]);
  });
});
