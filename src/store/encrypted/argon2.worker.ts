/** The thread that makes a key of a passcode. It answers once and is ended. */
import { argonHere, type ArgonInput } from './argon2-here.ts';
import type { ArgonReply } from './argon2.ts';

const scope = globalThis as unknown as {
  onmessage: (event: MessageEvent<ArgonInput>) => void;
  postMessage(reply: ArgonReply): void;
};

scope.onmessage = ({ data }) =>
  void argonHere(data).then(
    (key) => scope.postMessage({ key }),
    (error: unknown) => scope.postMessage({ reason: (error as Error).message }),
  );
