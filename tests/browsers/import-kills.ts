/**
 * Kills Chromium's process group at random moments while a page brings whole cases in, again and again on one profile,
 * and looks in every later start for cases of which only a part is there.
 */
import { randomInt } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { launchChromium, signalGroup } from './harness.ts';
import { serveLogPage } from './log-page.ts';
import type { logPage } from './pages/log.ts';

/** Entries of each case that is brought in: some tens of milliseconds of writing, so that kills land in it. */
const LENGTH = 400;
/** Cases on the device at most; the rest is wiped before the next kill, so that starts stay quick. */
const KEEP = 12;

export interface ImportTally {
  kills: number;
  /** Kills that came between the beginning of a case and its answer. */
  inside: number;
  /** Cases that the page had been told were stored. */
  stored: number;
  /** Of those, cases of which an entry is missing in any later start. */
  lost: number;
  /** Cases of which a part is there, in both copies taken together or in one by itself. */
  half: number;
  /** Cases that were never acknowledged and are there whole: the kill came after the writing. */
  unasked: number;
}

/**
 * @param kills how many
 * @returns the tally, or null when Chromium is not on this machine
 * @throws Error when a page begins or stores no case within a minute
 * @example await runImportKills(5) // { kills: 5, inside: 5, stored: 63, lost: 0, half: 0, unasked: 1 }
 */
export async function runImportKills(kills: number, tell: (line: string) => void = () => {}) {
  const site = await serveLogPage();
  const profile = await mkdtemp(join(tmpdir(), 'counterturn-import-kills-'));
  const tally: ImportTally = { kills: 0, inside: 0, stored: 0, lost: 0, half: 0, unasked: 0 };
  const acknowledged = new Set<string>();
  const seen = new Set<string>();
  /** Of the page that runs: cases begun, cases stored. */
  let begun = 0;
  let stored = 0;

  const look = (held: Record<string, number>, where: string) => {
    for (const [caseId, entries] of Object.entries(held)) {
      if (entries === LENGTH || seen.has(caseId)) continue;
      seen.add(caseId);
      tally.half++;
      tell(`${caseId}: ${entries} of ${LENGTH} entries in ${where}`);
    }
  };
  const start = async () => {
    const engine = await launchChromium({ userDataDir: profile });
    if (!engine) return null;
    [begun, stored] = [0, 0];
    await engine.page.exposeFunction('begun', () => void begun++);
    await engine.page.exposeFunction('acked', (caseId: string) => {
      tally.stored++;
      stored++;
      acknowledged.add(caseId);
    });
    await engine.open(site.url);
    // Each copy by itself as the kill left it: the comparing at the start heals what one of them lacks.
    const each = (await engine.evaluate('logPage.eachCopy()')) as Awaited<ReturnType<typeof logPage.eachCopy>>;
    look(each.database, 'the database');
    look(each.journal, 'the journal');
    const { held } = (await engine.evaluate('logPage.start()')) as Awaited<ReturnType<typeof logPage.start>>;
    look(held, 'both');
    for (const caseId of acknowledged) {
      if (held[caseId] === LENGTH) continue;
      tally.lost++;
      acknowledged.delete(caseId);
      tell(`${caseId}: stored, and ${held[caseId] ?? 0} of ${LENGTH} entries there`);
    }
    tally.unasked += Object.entries(held).filter(([id, n]) => n === LENGTH && !acknowledged.has(id)).length;
    for (const caseId of Object.keys(held).slice(0, -KEEP)) {
      await engine.evaluate(`logPage.remove('${caseId}')`);
      acknowledged.delete(caseId);
    }
    // From here on those too must stay whole.
    for (const [caseId, n] of Object.entries(held).slice(-KEEP)) if (n === LENGTH) acknowledged.add(caseId);
    return engine;
  };

  try {
    for (let k = 0; k < kills; k++) {
      const engine = await start();
      if (!engine) return null;
      engine.evaluate(`logPage.importForever(${LENGTH})`).catch(() => {});
      // By what the page says, not by the clock alone: a slow machine writes nothing in the time a quick one writes ten.
      // Every other kill may fall into the first case of a start, the rest into a later one.
      await until(() => begun > 0 && (k % 2 === 0 || stored > 0), k % 2 === 0 ? 'begin' : 'store');
      await sleep(randomInt(0, 900));
      if (begun > stored) tally.inside++;
      await signalGroup(profile, 'SIGKILL');
      tally.kills++;
      await engine.close().catch(() => {});
      if ((k + 1) % 10 === 0) tell(JSON.stringify(tally));
    }
    for (let again = 0; again < 2; again++) await (await start())?.close();
    return tally;
  } finally {
    await site.close();
    await rm(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 300 });
  }
}

/** Waits until it is so, at most a minute. */
async function until(isSo: () => boolean, what: string) {
  for (let tries = 0; !isSo(); tries++) {
    if (tries === 6000) throw new Error(`the page did not ${what} a case within a minute`);
    await sleep(10);
  }
}
