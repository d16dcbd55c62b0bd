/** A folder of case files, read one at a time: what is kept of each is what it adds to the figures. */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { caseOutcome } from '../../machines/across/outcome.ts';
import { addOutcome, emptyTally, passOver, type Tally } from '../../machines/across/tally.ts';
import { startOf, type CaseReading } from '../../machines/case-file.ts';
import type { Fault } from '../../machines/entry.ts';
import { isInvented } from '../session/demo.ts';
import type { LeftOut } from './csv.ts';
import type { FiledCase } from './lessons.ts';

/**
 * Counts every `.json` file that stands directly in a folder, in the order of their names. A file that is refused, or
 * whose seals are broken, is in no figure and is named.
 *
 * @param read one file to its checked case or its faults
 * @param invented count the invented cases too
 * @returns the counts; files that are in none; and the cases that have a plan, closed or not, each once
 * @throws what `readdir` throws when the folder cannot be read
 */
export async function tallyFolder(
  folder: string,
  read: (path: string) => Promise<CaseReading | { faults: readonly Pick<Fault, 'path' | 'message'>[] }>,
  invented: boolean,
): Promise<{ tally: Tally; leftOut: LeftOut[]; planned: FiledCase[] }> {
  const names = (await readdir(folder)).filter((name) => name.endsWith('.json')).sort();
  const tally = emptyTally();
  const leftOut: LeftOut[] = [];
  const planned = new Map<string, FiledCase>();
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
      const outcome = caseOutcome(entries, reading.content, startOf(entries, formatVersion));
      const word = addOutcome(tally, outcome);
      // Of two files of one case the one that tells of its end says more.
      if (word === 'counted' || (word === 'open' && !planned.has(outcome.id)))
        planned.set(outcome.id, { path: join(folder, file), outcome });
    }
  }
  return { tally, leftOut, planned: [...planned.values()] };
}
