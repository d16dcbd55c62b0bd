/** Bytes as base64 text (RFC 4648, section 4), for lines and rows that are text. */

/** @example toBase64(new Uint8Array([102, 111, 111])) // 'Zm9v', RFC 4648 section 10 */
export function toBase64(bytes: Uint8Array): string {
  let text = '';
  // In pieces: as arguments of one call, a long row would not fit on the stack.
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(text);
}

/** Throws where the text is not base64. */
export const fromBase64 = (text: string): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
