/** The ways out of the device: clipboard, share sheet, a file, paper. Each says whether it went, and why not. */
import type { Failure } from '../failure.ts';

export type Sent = { ok: true } | { ok: false; reason: Failure };

const because = (error: unknown, code: 'not-copied' | 'not-shared'): Sent => {
  const { name, message } = error as Error;
  if (name === 'AbortError') return { ok: false, reason: { code: 'given-up' } };
  return { ok: false, reason: { code, detail: message || name } };
};

/** Puts text on the clipboard. Needs a tap just before. */
export async function copyText(text: string): Promise<Sent> {
  try {
    if (!navigator.clipboard) return { ok: false, reason: { code: 'no-clipboard' } };
    await navigator.clipboard.writeText(text);
    return { ok: true };
  } catch (error) {
    return because(error, 'not-copied');
  }
}

export interface FileToSend {
  /** With its ending, such as case.txt. */
  name: string;
  /** Media type, such as text/plain. */
  type: string;
  content: string | Blob;
}

const blobOf = ({ type, content }: FileToSend) =>
  typeof content === 'string' ? new Blob([content], { type: `${type};charset=utf-8` }) : content;

/** Whether `shareFile` can work here at all. */
export function canShare(file: FileToSend): boolean {
  return Boolean(navigator.canShare?.({ files: [new File([blobOf(file)], file.name, { type: file.type })] }));
}

/** Opens the device's share sheet with one file. Needs a tap just before. */
export async function shareFile(file: FileToSend): Promise<Sent> {
  try {
    if (!canShare(file)) return { ok: false, reason: { code: 'no-sharing' } };
    await navigator.share({ files: [new File([blobOf(file)], file.name, { type: file.type })] });
    return { ok: true };
  } catch (error) {
    return because(error, 'not-shared');
  }
}

/** Hands one file to the browser's downloads. A page is never told whether it was written in the end. */
export function download(file: FileToSend): Sent {
  const url = URL.createObjectURL(blobOf(file));
  const link = document.createElement('a');
  link.href = url;
  link.download = file.name;
  document.body.append(link);
  link.click();
  link.remove();
  // Some browsers still read from it after the click.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
  return { ok: true };
}

/** Opens the print dialogue for the page as it stands. */
export function printPage(): Sent {
  if (typeof window.print !== 'function') return { ok: false, reason: { code: 'no-printing' } };
  window.print();
  return { ok: true };
}
