/**
 * What encrypts the cases of a device: AES-256-GCM (NIST SP 800-38D) under keys that HKDF-SHA-256 (RFC 5869) draws from
 * one random data key, by purpose and case. All of it is the browser's own Web Cryptography.
 */

export interface CaseKeys {
  /** AES-GCM, 256 bits, not extractable. */
  encryption: CryptoKey;
  /** HMAC-SHA-256, not extractable: the same entry has the same MAC, under whatever nonce it was encrypted. */
  mac: CryptoKey;
}

/** Bytes of a nonce: 96 bits, drawn at random for each encryption (SP 800-38D section 8.2.2). */
export const nonceBytes = 12;
export const dataKeyBytes = 32;

type Bytes = Uint8Array<ArrayBuffer>;
export const utf8 = (text: string): Bytes => new TextEncoder().encode(text);
export const randomBytes = (count: number): Bytes => crypto.getRandomValues(new Uint8Array(count));

/** The data key as a key from which others can be derived and nothing else. The bytes given are zeroed. */
export async function dataKeyFrom(raw: Bytes): Promise<CryptoKey> {
  const key = await crypto.subtle.importKey('raw', raw, 'HKDF', false, ['deriveKey']);
  raw.fill(0);
  return key;
}

const drawn = (
  from: CryptoKey,
  purpose: string,
  kind: AesKeyGenParams | HmacKeyGenParams,
  uses: KeyUsage[],
  { extractable = false, salt = new Uint8Array() }: { extractable?: boolean; salt?: Bytes } = {},
) =>
  crypto.subtle.deriveKey({ name: 'HKDF', hash: 'SHA-256', salt, info: utf8(purpose) }, from, kind, extractable, uses);

const aes = { name: 'AES-GCM', length: 256 };
const hmac = { name: 'HMAC', hash: 'SHA-256', length: 256 };

/**
 * The keys of one case.
 *
 * @param extractable true for the moment in which they are wrapped, never for keys that are kept
 */
export async function caseKeys(dataKey: CryptoKey, caseId: string, extractable = false): Promise<CaseKeys> {
  const [encryption, mac] = await Promise.all([
    drawn(dataKey, `counterturn case ${caseId}`, aes, ['encrypt', 'decrypt'], { extractable }),
    drawn(dataKey, `counterturn tag ${caseId}`, hmac, ['sign'], { extractable }),
  ]);
  return { encryption, mac };
}

/** An encryption key for a purpose of its own. */
export const aesKey = (dataKey: CryptoKey, purpose: string): Promise<CryptoKey> =>
  drawn(dataKey, purpose, aes, ['encrypt', 'decrypt']);

/** The keys of a case under a key of two halves: one of them is here, the other one lies elsewhere. */
export interface WrappedKeys {
  half: CryptoKey;
  /** Nonce, then the wrapped key and its tag. */
  encryption: Bytes;
  mac: Bytes;
}

/** Bytes of the half that lies elsewhere. */
export const halfBytes = 32;

const wrapper = (half: CryptoKey, other: Bytes, caseId: string) =>
  drawn(half, `counterturn kept ${caseId}`, aes, ['wrapKey', 'unwrapKey'], { salt: other });

/**
 * Wraps the keys of a case under a key of two halves, of which either alone opens nothing.
 *
 * @param keys extractable ones
 * @param other the half that will lie elsewhere: so many random bytes
 * @example await unwrapKeys(await wrapKeys(keys, 'one', other), 'one', other) // the keys again, not extractable
 */
export async function wrapKeys({ encryption, mac }: CaseKeys, caseId: string, other: Bytes): Promise<WrappedKeys> {
  const half = await crypto.subtle.importKey('raw', randomBytes(halfBytes), 'HKDF', false, ['deriveKey']);
  const under = await wrapper(half, other, caseId);
  const wrapped = async (key: CryptoKey): Promise<Bytes> => {
    const iv = randomBytes(nonceBytes);
    const bytes = new Uint8Array(await crypto.subtle.wrapKey('raw', key, under, { name: 'AES-GCM', iv }));
    return Uint8Array.from([...iv, ...bytes]);
  };
  return { half, encryption: await wrapped(encryption), mac: await wrapped(mac) };
}

/** The keys again. Rejects when the other half is not the one they were wrapped with, or they are of another case. */
export async function unwrapKeys(wrapped: WrappedKeys, caseId: string, other: Bytes): Promise<CaseKeys> {
  const under = await wrapper(wrapped.half, other, caseId);
  const key = (bytes: Bytes, kind: typeof aes | typeof hmac, uses: KeyUsage[]) => {
    const iv = bytes.subarray(0, nonceBytes);
    const body = bytes.subarray(nonceBytes);
    return crypto.subtle.unwrapKey('raw', body, under, { name: 'AES-GCM', iv }, kind, false, uses);
  };
  const [encryption, mac] = await Promise.all([
    key(wrapped.encryption, aes, ['encrypt', 'decrypt']),
    key(wrapped.mac, hmac, ['sign']),
  ]);
  return { encryption, mac };
}

/**
 * Encrypts some bytes under a fresh nonce.
 *
 * @param bound what they belong to (additional data): they are decrypted with the very same only
 * @returns nonce, then ciphertext, then its 16 bytes of authentication tag
 * @example (await encrypt(key, utf8('abc'), utf8('case 1'))).length // 12 + 3 + 16
 */
export async function encrypt(key: CryptoKey, plain: Bytes, bound: Bytes): Promise<Bytes> {
  const nonce = randomBytes(nonceBytes);
  const encrypted = await crypto.subtle.encrypt({ name: 'AES-GCM', iv: nonce, additionalData: bound }, key, plain);
  const ciphertext = new Uint8Array(nonceBytes + encrypted.byteLength);
  ciphertext.set(nonce);
  ciphertext.set(new Uint8Array(encrypted), nonceBytes);
  return ciphertext;
}

/** Decrypts. Rejects when it was encrypted with another key, belongs to something else, or one bit of it has changed. */
export async function decrypt(key: CryptoKey, ciphertext: Bytes, bound: Bytes): Promise<Bytes> {
  const iv = ciphertext.subarray(0, nonceBytes);
  const body = ciphertext.subarray(nonceBytes);
  return new Uint8Array(await crypto.subtle.decrypt({ name: 'AES-GCM', iv, additionalData: bound }, key, body));
}
