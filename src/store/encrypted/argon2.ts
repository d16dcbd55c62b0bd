/** Argon2id on a thread of its own where there is one: it takes a second or more, and the screen must not stand still. */
import * as v from 'valibot';
import { Failed } from '../../failure.ts';
import type { Argon2Input } from './argon2-here.ts';

const replyShape = v.union([
  v.object({ key: v.custom<Uint8Array<ArrayBuffer>>((value) => value instanceof Uint8Array) }),
  v.object({ reason: v.string() }),
]);
export type Argon2Reply = v.InferOutput<typeof replyShape>;

/** 32 bytes, on a thread that ends with the sum. Rejects when the device has no room for it. */
export async function argon2(input: Argon2Input): Promise<Uint8Array<ArrayBuffer>> {
  if (typeof Worker === 'undefined') return (await import('./argon2-here.ts')).argon2Here(input);
  const worker = new Worker(new URL('./argon2.worker.ts', import.meta.url), { type: 'module' });
  return new Promise<Uint8Array<ArrayBuffer>>((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<unknown>) => {
      const read = v.safeParse(replyShape, data);
      const reply = read.success ? read.output : { reason: 'an answer of another form' };
      if ('key' in reply) resolve(reply.key);
      else reject(new Failed({ code: 'thread-failed', detail: reply.reason }));
    };
    worker.onerror = (event) => reject(new Failed({ code: 'thread-failed', detail: event.message }));
    worker.postMessage(input);
  }).finally(() => worker.terminate());
}
