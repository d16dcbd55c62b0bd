/** The canonical JSON that seals are taken over, against the vectors that RFC 8785 itself prints (seen). */
import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../machines/entry.ts';
import { noSeal, sealOf } from '../../machines/seal.ts';

/** Section 3.2.2: the sample of the RFC, as it is written there. */
const sample = `{
  "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
  "string": "\\u20ac$\\u000F\\u000aA'\\u0042\\u0022\\u005c\\\\\\"\\/",
  "literals": [null, true, false]
}`;

describe('RFC 8785, JSON Canonicalization Scheme', () => {
  it('section 3.2.3 and 3.2.4: the sample, sorted and in the bytes that the RFC prints', () => {
    const canonical = canonicalize(JSON.parse(sample)) as string;
    expect(canonical).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
    );
    const bytes = Buffer.from(canonical, 'utf8').toString('hex');
    expect(bytes).toContain('e282ac245c75303030665c6e4127425c225c5c5c5c5c222f');
  });

  it('section 3.2.3: names are sorted by UTF-16 code units, unescaped', () => {
    const names = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    const order = [...(canonicalize(names) as string).matchAll(/:"([^"]+)"/g)].map(([, value]) => value);
    expect(order).toEqual([
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
  });

  it.each([
    ['0000000000000000', '0'],
    ['8000000000000000', '0'],
    ['0000000000000001', '5e-324'],
    ['8000000000000001', '-5e-324'],
    ['7fefffffffffffff', '1.7976931348623157e+308'],
    ['ffefffffffffffff', '-1.7976931348623157e+308'],
    ['4340000000000000', '9007199254740992'],
    ['c340000000000000', '-9007199254740992'],
    ['4430000000000000', '295147905179352830000'],
    ['44b52d02c7e14af5', '9.999999999999997e+22'],
    ['44b52d02c7e14af6', '1e+23'],
    ['44b52d02c7e14af7', '1.0000000000000001e+23'],
    ['444b1ae4d6e2ef4e', '999999999999999700000'],
    ['444b1ae4d6e2ef4f', '999999999999999900000'],
    ['444b1ae4d6e2ef50', '1e+21'],
    ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
    ['3eb0c6f7a0b5ed8d', '0.000001'],
    ['41b3de4355555553', '333333333.3333332'],
    ['41b3de4355555554', '333333333.33333325'],
    ['41b3de4355555555', '333333333.3333333'],
    ['41b3de4355555556', '333333333.3333334'],
    ['41b3de4355555557', '333333333.33333343'],
    ['becbf647612f3696', '-0.0000033333333333333333'],
    ['43143ff3c1cb0959', '1424953923781206.2'],
  ])('appendix B: %s is written %s', (hex, text) => {
    const value = Buffer.from(hex, 'hex').readDoubleBE();
    expect(canonicalize(value)).toBe(text);
  });

  it.each(['7fffffffffffffff', '7ff0000000000000'])('appendix B: %s is no JSON number and is refused', (hex) => {
    expect(() => canonicalize(Buffer.from(hex, 'hex').readDoubleBE())).toThrow();
  });

  it('a seal is taken over these bytes: FIPS 180-4 SHA-256 of the seal before and the canonical entry', () => {
    const entry: Entry = {
      n: 1,
      at: '2026-03-04T08:00:00Z',
      logged: '2026-03-04T08:00:00Z',
      type: 'remark',
      text: '\u20ac$\u000f\nA\'B"\\',
    };
    const canonical =
      '{"at":"2026-03-04T08:00:00Z","logged":"2026-03-04T08:00:00Z","n":1,"text":"\u20ac$\\u000f\\nA\'B\\"\\\\","type":"remark"}';
    expect(sealOf(noSeal, entry)).toBe(
      createHash('sha256')
        .update(noSeal + canonical, 'utf8')
        .digest('hex'),
    );
  });
});
