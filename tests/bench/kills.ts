/** `tsx tests/bench/kills.ts [COUNT] [Chromium|Firefox]`: kills, and what was lost. Exit status 1 when anything was. */
import { runKills } from '../browsers/kills.ts';

const count = Number(process.argv[2] ?? 200);
const engine = process.argv[3] === 'Firefox' ? 'Firefox' : 'Chromium';
const tally = await runKills(engine, count, (line) => console.log(line));
if (!tally) console.log(`${engine} is not on this machine`);
else console.log(`${engine}: ${JSON.stringify(tally)}`);
process.exit(tally && tally.lost === 0 && tally.revived === 0 ? 0 : 1);
