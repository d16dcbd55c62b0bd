/** The invented case by the release in use, as a case file that nobody has begun yet: the app itself opens it by the next. */
import { currentVersion } from '../../content/releases/index.ts';
import { ruleVersions } from '../../machines/fold.ts';
import { sealAll } from '../../machines/seal.ts';
import { caseFile } from '../../src/session/case-file.ts';
import { demoDrafts } from '../../src/session/demo.ts';
import '../all-words.ts';

/** What the file picker is given. */
export function firstCase(): { name: string; mimeType: string; buffer: Buffer } {
  const [opening, ...rest] = demoDrafts();
  const rules = ruleVersions.current().number;
  const drafts = [{ ...opening, rules, contentVersion: currentVersion }, ...rest];
  const start = Date.now() - 60_000;
  const entries = drafts.map((draft, i) => {
    const at = new Date(start + i * 1000).toISOString();
    return { n: i + 1, at, logged: at, ...draft };
  });
  const file = caseFile({ contentVersion: currentVersion }, sealAll(entries));
  return { name: 'first.case.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(file)) };
}
