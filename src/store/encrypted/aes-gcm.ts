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

const drawn = (dataKey: CryptoKey, purpose: string, kind: AesKeyGenParams | HmacKeyGenParams, uses: KeyUsage[]) =>
  crypto.subtle.deriveKey(
    { name: 'HKDF', hash: 'SHA-256', salt: new Uint8Array(), info: utf8(purpose) },
    dataKey,
    kind,
    false,
    uses,
  );

/** The keys of one case. */
export async function caseKeys(dataKey: CryptoKey, caseId: string): Promise<CaseKeys> {
  const hmac = { name: 'HMAC', hash: 'SHA-256', length: 256 };
  const [encryption, mac] = await Promise.all([
    aesKey(dataKey, `counterturn case ${caseId}`),
    drawn(dataKey, `counterturn tag ${caseId}`, hmac, ['sign']),
  ]);
  return { encryption, mac };
}

/** An encryption key for a purpose of its own. */
export const aesKey = (dataKey: CryptoKey, purpose: string): Promise<CryptoKey> =>
  drawn(dataKey, purpose, { name: 'AES-GCM', length: 256 }, ['encrypt', 'decrypt']);

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
