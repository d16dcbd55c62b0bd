/** A released version is frozen: a case that names it is read with the very bytes it was written with. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { releases } from '../../content/releases/index.ts';

/** SHA-256 of every file of a released folder. A row is added with a release, and never changed. */
const frozen: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  '2026.1': {
    'antibiotics.json': '1837361521e450b42f3e96417e934960013d59f2c9f85c2dc6e8520f42d34326',
    'bones.json': '13577b4777584e04213feb9708f7c60001430093b263e6a4da9078ff3fef51b4',
    'consent.json': '53753083df7384ed48bbb3495cfb2669e6698cc02060c8ecf9c7ef490add1548',
    'hazards.json': '7a2503568d6f2a5283a0ddb706a1381cac39cbf3ae77a0f657119388baa03779',
    'holds.json': '606f10b1c803ea30ae9e961f83902ab84df17e2d5dd0f8cebe8964014572d9b9',
    'ids.ts': '204f6c721614396f730ffa89085e085d39c47ac37ba401590462db62e90f04ec',
    'limits.json': '8be1d04e0343f2e4fab2cbf6269eef4b17ed4e1ee0508aac58aa1f4a693171d9',
    'moves.json': 'de1d52ce759f03e1d95f424983ba552557ec22d7b154bfec8dc4069403ea3933',
    'phrases.de.json': '8d948b95b6c5aee9aa382bd0e60be11a2b3e86e83d79903b29d34865f887da19',
    'phrases.en.json': 'af0df810c146646d5e4668a0add2b4694ae553c6d69ec06752ab135d86f5ad5e',
    'rates.json': '4cb3457269f6cb9685c16289faab34a5810f94aeee1393c1f32e5cea0fa2c5fc',
    'recesses.json': '74965c0d147fc1fa152dd24c799301b909010a6c4642ce2f1eb8a33c2b968c37',
    'release.json': '68072d06193799e86924c5e74c74abb1c92866db91b4ae59b096ef8b7d52650c',
    'screws.json': '8c72c2722bb012904b141ff8df93b647d7549b0a5e33544e0611fbe3e3d0f979',
    'sources.json': 'aa27346920c8ffda8f994d3afe8d4394af6425fb8ec227f16d5f62809e06a48d',
    'tools.json': 'eb6e91ca9182fe6334866bbd6338fd66448bd3abeeb66a0722c277820adbe7f0',
    'trade.de.json': 'b514bde2171f94705c47d4c30a03bde1bbf28f9cbfa20fe0ab89bba80c57545f',
  },
};

const content = resolve(import.meta.dirname, '../../content');
const digest = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');

it('[R10] freezes every release of the build', () => expect(Object.keys(frozen)).toEqual(Object.keys(releases)));

describe.each(Object.entries(frozen))('content %s', (version, files) => {
  const folder = join(content, version);

  it('holds the files it was released with, and no others', () => {
    expect(readdirSync(folder).sort()).toEqual(Object.keys(files).sort());
  });

  it.each(Object.entries(files))('%s is as it was released', (file, expected) => {
    expect(digest(readFileSync(join(folder, file)))).toBe(expected);
  });
});

it('sees a change of one letter', () => {
  const [[file, expected]] = Object.entries(frozen['2026.1'] ?? {}) as [[string, string]];
  const bytes = readFileSync(join(content, '2026.1', file));
  bytes[bytes.length >> 1] = (bytes[bytes.length >> 1] ?? 0) ^ 1;
  expect(digest(bytes)).not.toBe(expected);
});
