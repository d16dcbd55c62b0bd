/** A folder of case files, read one at a time: what is kept of each is what it adds to the figures. */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { addCase, emptyTally, passOver, type Tally } from '../../machines/across/tally.ts';
import { startOf, type CaseReading } from '../../machines/case-file.ts';
import type { Fault } from '../../machines/entry.ts';
import { isInvented } from '../session/demo.ts';
import type { LeftOut } from './csv.ts';

/**
 * Counts every `.json` file that stands directly in a folder, in the order of their names. A file that is refused, or
 * whose seals are broken, is in no figure and is named.
 *
 * @param read one file to its checked case or its faults
 * @param invented count the invented cases too
 * @throws what `readdir` throws when the folder cannot be read
 */
export async function tallyFolder(
  folder: string,
  read: (path: string) => Promise<CaseReading | { faults: readonly Pick<Fault, 'path' | 'message'>[] }>,
  invented: boolean,
): Promise<{ tally: Tally; leftOut: LeftOut[] }> {
  const names = (await readdir(folder)).filter((name) => name.endsWith('.json')).sort();
  const tally = emptyTally();
  const leftOut: LeftOut[] = [];
  const leave = (file: string, why: LeftOut['why'], fault: string) => {
    passOver(tally, why);
    leftOut.push({ file, why, fault });
  };
  for (const file of names) {
    const reading = await read(join(folder, file));
    if ('faults' in reading) {
      const [first] = reading.faults;
      leave(file, 'unreadable', first ? `${first.path}: ${first.message}` : 'no reason given');
    } else if (reading.seals.seals === 'broken')
      leave(file, 'broken', `entries[${(reading.seals.brokenAt ?? 1) - 1}].seal`);
    else if (!invented && isInvented(reading.file.entries)) passOver(tally, 'invented');
    else {
      const { entries, formatVersion } = reading.file;
      addCase(tally, entries, reading.content, startOf(entries, formatVersion));
    }
  }
  return { tally, leftOut };
}
