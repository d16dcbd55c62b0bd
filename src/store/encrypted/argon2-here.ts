/** Argon2id, here and now. Apart, since a page that has threads never makes its keys itself. */
import { argon2id } from 'hash-wasm';

/** As RFC 9106 names them: memory in KiB, passes, lanes. */
export interface Argon2Input {
  password: string;
  salt: Uint8Array;
  memoryKiB: number;
  passes: number;
  lanes: number;
}

/** 32 bytes. Rejects when the device has no room for it. */
export const argon2Here = async ({ password, salt, memoryKiB, passes, lanes }: Argon2Input) =>
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
