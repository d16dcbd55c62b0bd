/**
 * An entry as it lies on disk under a passcode: `{ n, seal, box }`, `seal` its MAC and `box` its ciphertext, base64.
 * The opening of a case is encrypted like an entry numbered 0, which no entry is, and carries its MAC as `created`.
 */
import type { Entry } from '../../../machines/entry.ts';
import type { CaseMeta, EncryptedMeta, EncryptedRow } from '../port.ts';
import { type CaseKeys, decrypt, encrypt, utf8 } from './aes-gcm.ts';
import { fromBase64, toBase64 } from './base64.ts';

/** The text is filled up with blanks to a multiple of so many bytes, so that its length does not tell its kind. */
const STEP = 256;

/** What a ciphertext belongs to: its case and its place there. */
const belongsTo = (caseId: string, n: number) => utf8(`${caseId}\n${n}`);

async function encrypted(keys: CaseKeys, caseId: string, n: number, value: unknown) {
  const json = utf8(JSON.stringify(value));
  const filled = new Uint8Array(Math.ceil(json.length / STEP) * STEP).fill(0x20);
  filled.set(json);
  const [ciphertext, mac] = await Promise.all([
    encrypt(keys.encryption, filled, belongsTo(caseId, n)),
    crypto.subtle.sign('HMAC', keys.mac, json),
  ]);
  return { ciphertext: toBase64(ciphertext), mac: toBase64(new Uint8Array(mac)) };
}

async function decrypted(keys: CaseKeys, caseId: string, n: number, ciphertext: string): Promise<unknown> {
  const bytes = await decrypt(keys.encryption, fromBase64(ciphertext), belongsTo(caseId, n));
  return JSON.parse(new TextDecoder().decode(bytes));
}

/** The row of an entry, encrypted under a fresh nonce. */
export async function encryptRow(keys: CaseKeys, caseId: string, entry: Entry): Promise<EncryptedRow> {
  const { ciphertext, mac } = await encrypted(keys, caseId, entry.n, entry);
  return { n: entry.n, seal: mac, box: ciphertext };
}

/** The entry of a row. Rejects when the row was changed, moved, or belongs to other keys. */
export const decryptRow = async (keys: CaseKeys, caseId: string, { n, box }: EncryptedRow): Promise<Entry> =>
  (await decrypted(keys, caseId, n, box)) as Entry;

/** What is kept of a case beside its entries, encrypted; its id stays readable. */
export async function encryptMeta(keys: CaseKeys, meta: CaseMeta): Promise<EncryptedMeta> {
  const { ciphertext, mac } = await encrypted(keys, meta.caseId, 0, meta);
  return { caseId: meta.caseId, contentVersion: '', demo: false, created: mac, box: ciphertext };
}

/** Rejects as `decryptRow` does. */
export const decryptMeta = async (keys: CaseKeys, { caseId, box }: EncryptedMeta): Promise<CaseMeta> =>
  (await decrypted(keys, caseId, 0, box)) as CaseMeta;
