/** Argon2id on a thread of its own where there is one: it takes a second or more, and the screen must not stand still. */
import { argon2id } from 'hash-wasm';

/** As RFC 9106 names them: memory in KiB, passes, lanes. */
export interface ArgonInput {
  password: string;
  salt: Uint8Array;
  memoryKiB: number;
  passes: number;
  lanes: number;
}

export type ArgonReply = { key: Uint8Array<ArrayBuffer> } | { reason: string };

/** 32 bytes, here and now. */
export const argonHere = async ({ password, salt, memoryKiB, passes, lanes }: ArgonInput) =>
  new Uint8Array(
    await argon2id({
      password,
      salt,
      iterations: passes,
      parallelism: lanes,
      memorySize: memoryKiB,
      hashLength: 32,
      outputType: 'binary',
    }),
  );

/** 32 bytes, on a thread that ends with the sum. Rejects when the device has no room for it. */
export function argon(input: ArgonInput): Promise<Uint8Array<ArrayBuffer>> {
  if (typeof Worker === 'undefined') return argonHere(input);
  const worker = new Worker(new URL('./argon2.worker.ts', import.meta.url), { type: 'module' });
  return new Promise<Uint8Array<ArrayBuffer>>((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<ArgonReply>) =>
      'key' in data ? resolve(data.key) : reject(new Error(data.reason));
    worker.onerror = (event) => reject(new Error(event.message || 'the thread failed'));
    worker.postMessage(input);
  }).finally(() => worker.terminate());
}
