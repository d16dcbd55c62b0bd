/** The thread that makes a key of a passcode. It answers once and is ended. */
import { argon2Here, type Argon2Input } from './argon2-here.ts';
import type { Argon2Reply } from './argon2.ts';

const scope = globalThis as unknown as {
  onmessage: (event: MessageEvent<Argon2Input>) => void;
  postMessage(reply: Argon2Reply): void;
};

scope.onmessage = ({ data }) =>
  void argon2Here(data).then(
    (key) => scope.postMessage({ key }),
    (error: unknown) => scope.postMessage({ reason: (error as Error).message }),
  );
