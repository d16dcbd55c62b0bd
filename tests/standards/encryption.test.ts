/** The ciphers in use against published vectors: what the engine and the libraries compute is what the standards say. */
import { argon2id as noble } from '@noble/hashes/argon2.js';
import { argon2id } from 'hash-wasm';
import { describe, expect, it } from 'vitest';
import { fromBase64, toBase64 } from '../../src/store/encrypted/base64.ts';
import { decrypt } from '../../src/store/encrypted/aes-gcm.ts';
import { cost } from '../../src/store/encrypted/passcode.ts';

const bytes = (hex: string) => Uint8Array.from(hex.match(/../g) ?? [], (pair) => parseInt(pair, 16));
const hex = (all: ArrayBuffer | Uint8Array) =>
  Buffer.from(all instanceof Uint8Array ? all : new Uint8Array(all)).toString('hex');

describe('AES-256-GCM', () => {
  // McGrew and Viega, "The Galois/Counter Mode of Operation (GCM)", submission to NIST, 2005, appendix B, test case 16.
  const vector = {
    key: 'feffe9928665731c6d6a8f9467308308feffe9928665731c6d6a8f9467308308',
    nonce: 'cafebabefacedbaddecaf888',
    bound: 'feedfacedeadbeeffeedfacedeadbeefabaddad2',
    plain:
      'd9313225f88406e5a55909c5aff5269a86a7a9531534f7da2e4c303d8a318a721c3c0c95956809532fcf0e2449a6b525b16aedf5aa0de657ba637b39',
    encrypted:
      '522dc1f099567d07f47f37a32a84427d643a8cdcbfe5c0c97598a2bd2555d1aa8cb08e48590dbb3da7b08b1056828838c5f61e6393ba7a0abcc9f662' +
      '76fc6ece0f4e1768cddf8853bb2d551b',
  };
  const key = () => crypto.subtle.importKey('raw', bytes(vector.key), 'AES-GCM', false, ['encrypt', 'decrypt']);

  it('opens the box of test case 16 as this app opens its own, and encrypts to it', async () => {
    expect(hex(await decrypt(await key(), bytes(vector.nonce + vector.encrypted), bytes(vector.bound)))).toBe(
      vector.plain,
    );
    const how = { name: 'AES-GCM', iv: bytes(vector.nonce), additionalData: bytes(vector.bound) };
    expect(hex(await crypto.subtle.encrypt(how, await key(), bytes(vector.plain)))).toBe(vector.encrypted);
  });

  it('does not open it with any one bit of nonce, text, proof or what it is bound to changed', async () => {
    const box = bytes(vector.nonce + vector.encrypted);
    for (let bit = 0; bit < box.length * 8; bit += 7) {
      const other = box.slice();
      other[bit >> 3]! ^= 1 << (bit & 7);
      await expect(decrypt(await key(), other, bytes(vector.bound))).rejects.toThrow();
    }
    await expect(decrypt(await key(), box, bytes(vector.bound.replace(/^fe/, 'ff')))).rejects.toThrow();
  });
});

describe('HKDF-SHA-256', () => {
  it('gives the key of RFC 5869, appendix A.1', async () => {
    const from = await crypto.subtle.importKey('raw', bytes('0b'.repeat(22)), 'HKDF', false, ['deriveBits']);
    const how = {
      name: 'HKDF',
      hash: 'SHA-256',
      salt: bytes('000102030405060708090a0b0c'),
      info: bytes('f0f1f2f3f4f5f6f7f8f9'),
    };
    expect(hex(await crypto.subtle.deriveBits(how, from, 42 * 8))).toBe(
      '3cb25f25faacd57a90434f64d0362f2a2d2d0a90cf1a5a4c5db02d56ecc4c5bf34007208d5b887185865',
    );
  });
});

describe('Argon2id', () => {
  // RFC 9106, section 5.3: with a secret and associated data, which the library in use cannot take.
  const rfc = {
    password: bytes('01'.repeat(32)),
    salt: bytes('02'.repeat(16)),
    secret: bytes('03'.repeat(8)),
    data: bytes('04'.repeat(12)),
  };

  it('of the second library gives the tag of RFC 9106, section 5.3', () => {
    const how = { t: 3, m: 32, p: 4, dkLen: 32, key: rfc.secret, personalization: rfc.data };
    expect(hex(noble(rfc.password, rfc.salt, how))).toBe(
      '0d640df58d78766c08c037a34a8b53c9d01ef0452d75b65eb52520e96b01e659',
    );
  });

  it.each([
    ['the inputs of RFC 9106, section 5.3, without the associated data', rfc.password, rfc.salt, 3, 32, 4, rfc.secret],
    [
      'this app’s passes and lanes, and an eighth of its memory',
      new TextEncoder().encode('frühe Schicht ✓'),
      rfc.salt,
      cost.passes,
      cost.memoryKiB / 8,
      cost.lanes,
      undefined,
    ],
  ] as const)('of the library in use agrees with the second one for %s', async (_, password, salt, t, m, p, secret) => {
    const own = await argon2id({
      password,
      salt,
      iterations: t,
      memorySize: m,
      parallelism: p,
      hashLength: 32,
      outputType: 'hex',
      ...(secret && { secret }),
    });
    expect(own).toBe(hex(noble(password, salt, { t, m, p, dkLen: 32, ...(secret && { key: secret }) })));
  });

  it('costs what the second recommended option of RFC 9106, section 4, asks for', () => {
    expect(cost).toEqual({ name: 'argon2id', version: 0x13, passes: 3, lanes: 4, memoryKiB: 2 ** 16 });
  });
});

describe('base64', () => {
  it.each([
    ['', ''],
    ['f', 'Zg=='],
    ['fo', 'Zm8='],
    ['foobar', 'Zm9vYmFy'],
  ])('of %j is that of RFC 4648, section 10', (text, wanted) => {
    expect(toBase64(new TextEncoder().encode(text))).toBe(wanted);
    expect(new TextDecoder().decode(fromBase64(wanted))).toBe(text);
  });
});
