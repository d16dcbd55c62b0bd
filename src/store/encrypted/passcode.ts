/**
 * From a passcode to the data key: the data key is random and never changes; what is kept on disk is that key, wrapped
 * by another that Argon2id (RFC 9106) makes of the passcode, slowly. A new passcode wraps the same key again.
 */
import * as v from 'valibot';
import { argon2 } from './argon2.ts';
import { fromBase64, toBase64 } from './base64.ts';
import { dataKeyBytes, decrypt, randomBytes, encrypt, utf8 } from './aes-gcm.ts';

export const passcodeFormat = 'counterturn-passcode';
export const passcodeFormatVersion = 1;

/** Characters of a passcode, at least (common practice, no source). */
export const leastCharacters = 6;

/** Cost of a try: the second recommended option of RFC 9106, section 4 (2021): t = 3, p = 4, m = 2^16 KiB, 16 bytes of salt. */
export const cost = { name: 'argon2id', version: 19, memoryKiB: 65536, passes: 3, lanes: 4 } as const;

const onDisk = v.strictObject({
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
  /** The data key under the passcode's key: nonce, ciphertext, authentication tag. */
  wrapped: v.pipe(v.string(), v.base64(), v.length(80)),
});
export type KeyWrapOnDisk = v.InferOutput<typeof onDisk>;

/**
 * What is kept of a passcode, read from where it lies on disk or at the head of an encrypted backup. The bounds keep a
 * foreign file from asking for all memory. On disk its revision is called `turn`.
 */
export const keyWrapShape = v.pipe(
  onDisk,
  v.transform(({ turn, ...rest }) => ({ ...rest, revision: turn })),
);
export type KeyWrap = v.InferOutput<typeof keyWrapShape>;
type Kdf = KeyWrap['kdf'];

/** A key wrap as it is written to disk and into backups. */
export const keyWrapOnDisk = ({ format, formatVersion, revision, kdf, salt, wrapped }: KeyWrap): KeyWrapOnDisk => ({
  format,
  formatVersion,
  turn: revision,
  kdf,
  salt,
  wrapped,
});

/** The key that a passcode makes. Two ways of typing one letter are one (NFC, as RFC 8265 section 4.2 has it). */
export async function passcodeKey(passcode: string, kdf: Kdf, salt: Uint8Array): Promise<CryptoKey> {
  const { memoryKiB, passes, lanes } = kdf;
  const raw = await argon2({ password: passcode.normalize('NFC'), salt, memoryKiB, passes, lanes });
  const key = await crypto.subtle.importKey('raw', raw, 'AES-GCM', false, ['encrypt', 'decrypt']);
  raw.fill(0);
  return key;
}

const bound = (kdf: Kdf, salt: string) => utf8(JSON.stringify([passcodeFormat, passcodeFormatVersion, kdf, salt]));

export const newDataKey = () => randomBytes(dataKeyBytes);

/** Wraps a data key under a passcode. */
export async function wrap(dataKey: Uint8Array<ArrayBuffer>, passcode: string, revision: number, kdf: Kdf = cost) {
  const salt = randomBytes(16);
  const text = toBase64(salt);
  const wrapped = await encrypt(await passcodeKey(passcode, kdf, salt), dataKey, bound(kdf, text));
  const made: KeyWrap = {
    format: passcodeFormat,
    formatVersion: passcodeFormatVersion,
    revision,
    kdf,
    salt: text,
    wrapped: toBase64(wrapped),
  };
  return made;
}

/** The data key again, or null when the passcode is another. Rejects when the device has no room for the try. */
export async function unwrap(kept: KeyWrap, passcode: string): Promise<Uint8Array<ArrayBuffer> | null> {
  const key = await passcodeKey(passcode, kept.kdf, fromBase64(kept.salt));
  // Another passcode and a changed wrap look the same: the authentication tag does not fit.
  return decrypt(key, fromBase64(kept.wrapped), bound(kept.kdf, kept.salt)).catch(() => null);
}
