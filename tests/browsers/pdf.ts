/** Reads printed sheets back. */
import { execFileSync } from 'node:child_process';

/** Is Poppler's reader of PDF here? Without it nothing is read back. */
export const canReadPdf = (() => {
  try {
    execFileSync('pdftotext', ['-v'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
})();

/** The text of each page. */
export const readPdf = (path: string, how: '-layout' | '-raw'): string[] =>
  execFileSync('pdftotext', [how, path, '-'], { encoding: 'utf8' }).split('\f').slice(0, -1);
