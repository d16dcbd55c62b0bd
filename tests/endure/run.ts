/**
 * The long forms of the suites: `npm run endure` takes all, hours, and writes their figures into `ENDURE.md`.
 *
 * `npm run endure -- across memory` takes the named parts; `--length N` another length than the full one, which the
 * table then says. Ends with status 1 when something was lost, failed, or is not on this machine.
 */
import { parseArgs } from 'node:util';
import { parts } from './parts.ts';
import { writeRow } from './table.ts';

const { values, positionals } = parseArgs({ allowPositionals: true, options: { length: { type: 'string' } } });
const asked = positionals.length ? positionals : Object.keys(parts).filter((name) => !parts[name]?.onlyNamed);
const unknown = asked.filter((name) => !(name in parts));
if (unknown.length) {
  console.error(`no part ${unknown.join(', ')}; there are: ${Object.keys(parts).join(', ')}`);
  process.exit(2);
}
if (values.length !== undefined && !(Number(values.length) > 0)) {
  console.error('--length is a number above 0');
  process.exit(2);
}

let failed = false;
for (const name of asked) {
  const part = parts[name];
  if (!part) continue;
  const length = Number(values.length ?? part.full);
  console.log(`== ${name}: ${length} ${part.unit}`);
  const start = performance.now();
  const { good, figures } = await part.run(length).catch((error: unknown) => ({ good: false, figures: String(error) }));
  const seconds = (performance.now() - start) / 1000;
  failed ||= !good;
  console.log(`== ${name}: ${good ? 'good' : 'FAILED'} in ${seconds.toFixed(0)} s: ${figures}`);
  await writeRow({
    part: name,
    length: `${length} ${part.unit}${length === part.full ? '' : ` of ${part.full}`}`,
    result: good ? 'good' : 'FAILED',
    figures,
    seconds: seconds.toFixed(0),
  });
}
process.exit(failed ? 1 : 0);
