/** What every check of a shape shares: paths, faults, one object over another; and the places of a phrase. */
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { faultsOf, isObject, laidOver, pathOf, pathTo, unknownFields } from '../../content/shape.ts';
import { fillTemplate } from '../../content/template.ts';

describe('a path', () => {
  it.each([
    [['entries', 6, 'outcome'], '', 'entries[6].outcome'],
    [[0, 'value'], '', '[0].value'],
    [['size'], 'tools[2]', 'tools[2].size'],
    [[], 'entries[3]', 'entries[3]'],
    [[], '', ''],
  ])('of %j behind %j is %j', (keys, base, path) => expect(pathOf(keys, base)).toBe(path));

  it('grows by one step', () => expect(pathTo(pathTo('', 'moves'), 3)).toBe('moves[3]'));
});

describe('what a schema finds', () => {
  const shape = v.strictObject({
    size: v.pipe(v.number('expected a number'), v.minValue(0, 'must not be negative')),
    needs: v.optional(
      v.array(v.union([v.strictObject({ tool: v.string() }), v.strictObject({ anyOf: v.array(v.string()) })])),
    ),
  });
  const found = (value: unknown) => faultsOf(v.safeParse(shape, value).issues ?? [], 'tools[1]');

  it.each([
    [{ size: -1 }, [{ path: 'tools[1].size', message: 'must not be negative', code: 'negative' }]],
    [{}, [{ path: 'tools[1].size', message: 'missing', code: 'missing' }]],
    [{ size: 1, colour: 'red' }, [{ path: 'tools[1].colour', message: 'unknown field', code: 'unknown-field' }]],
    [{ size: 1, needs: [] }, []],
  ])('in %j is %j', (value, faults) => expect(found(value)).toEqual(faults));

  it('is, of the alternatives of a union, what the one that came furthest says', () => {
    expect(found({ size: 1, needs: [{ anyOf: [3] }] }).map(({ path }) => path)).toEqual(['tools[1].needs[0].anyOf[0]']);
  });
});

describe('a field that a format does not know', () => {
  it('is named, every one of them', () => {
    expect(unknownFields({ name: 'x', colour: 1, size: 2 }, ['name'])).toEqual([
      { path: 'colour', message: 'unknown field', code: 'unknown-field' },
      { path: 'size', message: 'unknown field', code: 'unknown-field' },
    ]);
    expect(unknownFields({ colour: 1 }, [], 'tools[0]')).toEqual([
      { path: 'tools[0].colour', message: 'unknown field', code: 'unknown-field' },
    ]);
  });
});

describe('an object', () => {
  it.each([
    [{}, true],
    [[], false],
    [null, false],
    ['text', false],
  ])('is it %j: %j', (value, is) => expect(isObject(value)).toBe(is));
});

describe('one value laid over another', () => {
  it.each([
    [{ a: 1, b: { c: 2, d: 3 } }, { b: { c: 4 } }, { a: 1, b: { c: 4, d: 3 } }],
    [{ a: [1, 2] }, { a: [3] }, { a: [3] }],
    [{ a: 1 }, undefined, { a: 1 }],
    [{ a: 1 }, { a: null }, { a: 1 }],
    [{ a: 1 }, { b: { c: 2 } }, { a: 1, b: { c: 2 } }],
    ['beneath', { a: 1 }, { a: 1 }],
  ])('%j under %j is %j', (beneath, above, both) => expect(laidOver(beneath, above)).toEqual(both));

  it('leaves both as they were', () => {
    const [beneath, above] = [
      Object.freeze({ a: Object.freeze({ b: 1 }) }),
      Object.freeze({ a: Object.freeze({ c: 2 }) }),
    ];
    expect(laidOver(beneath, above)).toEqual({ a: { b: 1, c: 2 } });
    expect([beneath, above]).toEqual([{ a: { b: 1 } }, { a: { c: 2 } }]);
  });
});

describe('a phrase', () => {
  it('has its places filled by name, each as often as it stands there', () => {
    const values: Record<string, string> = { n: '2', of: '8' };
    expect(fillTemplate('{n} of {of}, {n}', (place) => values[place] ?? place)).toBe('2 of 8, 2');
    expect(fillTemplate('{who} and {n}', (place) => values[place] ?? place)).toBe('who and 2');
  });

  it('takes nothing for a place but a name in braces', () => {
    expect(fillTemplate('{} {a b} $& {n}', () => '$1')).toBe('{} {a b} $& $1');
  });
});
