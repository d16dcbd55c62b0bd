/**
 * What seals the cases of a device: AES-256-GCM (NIST SP 800-38D) under keys that HKDF-SHA-256 (RFC 5869) draws from
 * one random data key, by purpose and case. All of it is the browser's own Web Cryptography.
 */

export interface CaseKeys {
  /** AES-GCM, 256 bits, not extractable. */
  box: CryptoKey;
  /** HMAC-SHA-256, not extractable: the same entry has the same tag, under whatever nonce it was sealed. */
  tag: CryptoKey;
}

/** Bytes of a nonce: 96 bits, drawn at random for each sealing (SP 800-38D section 8.2.2). */
export const nonceBytes = 12;
export const dataKeyBytes = 32;

type Bytes = Uint8Array<ArrayBuffer>;
export const utf8 = (text: string): Bytes => new TextEncoder().encode(text);
export const randomBytes = (count: number): Bytes => crypto.getRandomValues(new Uint8Array(count));

/** The data key as something that others can only be drawn from. The bytes given are blotted out. */
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
  const [box, tag] = await Promise.all([
    boxKey(dataKey, `counterturn case ${caseId}`),
    drawn(dataKey, `counterturn tag ${caseId}`, hmac, ['sign']),
  ]);
  return { box, tag };
}

/** A sealing key for a purpose of its own. */
export const boxKey = (dataKey: CryptoKey, purpose: string): Promise<CryptoKey> =>
  drawn(dataKey, purpose, { name: 'AES-GCM', length: 256 }, ['encrypt', 'decrypt']);

/**
 * Seals some bytes under a fresh nonce.
 *
 * @param bound what the box belongs to; it opens with the very same only
 * @returns nonce, then ciphertext, then its 16 bytes of proof
 * @example (await sealBytes(key, utf8('abc'), utf8('case 1'))).length // 12 + 3 + 16
 */
export async function sealBytes(key: CryptoKey, plain: Bytes, bound: Bytes): Promise<Bytes> {
  const nonce = randomBytes(nonceBytes);
  const sealed = await crypto.subtle.encrypt({ name: 'AES-GCM', iv: nonce, additionalData: bound }, key, plain);
  const box = new Uint8Array(nonceBytes + sealed.byteLength);
  box.set(nonce);
  box.set(new Uint8Array(sealed), nonceBytes);
  return box;
}

/** Opens a box. Rejects when it was made with another key, belongs to something else, or one bit of it has changed. */
export async function openBytes(key: CryptoKey, box: Bytes, bound: Bytes): Promise<Bytes> {
  const iv = box.subarray(0, nonceBytes);
  const body = box.subarray(nonceBytes);
  return new Uint8Array(await crypto.subtle.decrypt({ name: 'AES-GCM', iv, additionalData: bound }, key, body));
}
