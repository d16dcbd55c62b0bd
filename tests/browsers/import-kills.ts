/**
 * Kills Chromium's process group at random moments while a page brings whole cases in, again and again on one profile,
 * and looks in every later start for cases of which only a part is there.
 */
import { randomInt } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { launchChromium, signalGroup } from './harness.ts';
import { serveLogPage } from './log-page.ts';
import type { logPage } from './pages/log.ts';

/** Entries of each case that is brought in: some tens of milliseconds of writing, so that kills land in it. */
const LENGTH = 400;
/** Cases on the device at most; the rest is wiped before the next kill, so that starts stay quick. */
const KEEP = 12;

export interface ImportTally {
  kills: number;
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
 * @example await runImportKills(5) // { kills: 5, stored: 63, lost: 0, half: 0, unasked: 1 }
 */
export async function runImportKills(kills: number, tell: (line: string) => void = () => {}) {
  const site = await serveLogPage();
  const profile = await mkdtemp(join(tmpdir(), 'counterturn-import-kills-'));
  const tally: ImportTally = { kills: 0, stored: 0, lost: 0, half: 0, unasked: 0 };
  const acknowledged = new Set<string>();
  const seen = new Set<string>();

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
    await engine.page.exposeFunction('acked', (caseId: string) => {
      tally.stored++;
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
      await new Promise((wake) => setTimeout(wake, randomInt(60, 900)));
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
