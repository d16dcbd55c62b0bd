/**
 * From a passcode to the data key: the data key is random and never changes; what is kept on disk is that key, sealed
 * under another that Argon2id (RFC 9106) makes of the passcode, slowly. A new passcode seals the same key anew.
 */
import * as v from 'valibot';
import { argon } from './argon2.ts';
import { fromBase64, toBase64 } from './base64.ts';
import { dataKeyBytes, openBytes, randomBytes, sealBytes, utf8 } from './aes-gcm.ts';

export const passcodeFormat = 'counterturn-passcode';
export const passcodeFormatVersion = 1;

/** Characters of a passcode, at least (common practice, no source). */
export const leastCharacters = 6;

/** Cost of a try: the second recommended option of RFC 9106, section 4 (2021): t = 3, p = 4, m = 2^16 KiB, 16 bytes of salt. */
export const cost = { name: 'argon2id', version: 19, memoryKiB: 65536, passes: 3, lanes: 4 } as const;

/** The shape on disk and at the head of a sealed backup. The bounds keep a foreign file from asking for all memory. */
export const lockShape = v.strictObject({
  format: v.literal(passcodeFormat),
  formatVersion: v.literal(passcodeFormatVersion),
  /** Counts up with each change of the passcode: of two, the higher is the newer. */
  turn: v.pipe(v.number(), v.integer(), v.minValue(1)),
  kdf: v.strictObject({
    name: v.literal('argon2id'),
    version: v.literal(19),
    memoryKiB: v.pipe(v.number(), v.integer(), v.minValue(8192), v.maxValue(262144)),
    passes: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(10)),
    lanes: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(8)),
  }),
  salt: v.pipe(v.string(), v.base64(), v.minLength(24), v.maxLength(88)),
  /** The data key under the passcode's key: nonce, ciphertext, proof. */
  wrapped: v.pipe(v.string(), v.base64(), v.length(80)),
});
export type LockHead = v.InferOutput<typeof lockShape>;
type Kdf = LockHead['kdf'];

/** The key that a passcode makes. Two ways of typing one letter are one (NFC, as RFC 8265 section 4.2 has it). */
export async function passcodeKey(passcode: string, kdf: Kdf, salt: Uint8Array): Promise<CryptoKey> {
  const { memoryKiB, passes, lanes } = kdf;
  const raw = await argon({ password: passcode.normalize('NFC'), salt, memoryKiB, passes, lanes });
  const key = await crypto.subtle.importKey('raw', raw, 'AES-GCM', false, ['encrypt', 'decrypt']);
  raw.fill(0);
  return key;
}

const bound = (kdf: Kdf, salt: string) => utf8(JSON.stringify([passcodeFormat, passcodeFormatVersion, kdf, salt]));

export const newDataKey = () => randomBytes(dataKeyBytes);

/** Seals a data key under a passcode. */
export async function wrap(dataKey: Uint8Array<ArrayBuffer>, passcode: string, turn: number, kdf: Kdf = cost) {
  const salt = randomBytes(16);
  const text = toBase64(salt);
  const box = await sealBytes(await passcodeKey(passcode, kdf, salt), dataKey, bound(kdf, text));
  const head: LockHead = {
    format: passcodeFormat,
    formatVersion: passcodeFormatVersion,
    turn,
    kdf,
    salt: text,
    wrapped: toBase64(box),
  };
  return head;
}

/** The data key again, or null when the passcode is another. Rejects when the device has no room for the try. */
export async function unwrap(head: LockHead, passcode: string): Promise<Uint8Array<ArrayBuffer> | null> {
  const key = await passcodeKey(passcode, head.kdf, fromBase64(head.salt));
  return openBytes(key, fromBase64(head.wrapped), bound(head.kdf, head.salt)).catch(() => null);
}
