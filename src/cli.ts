/**
 * The command `counterturn`. Exit status 0; 1 where the answer is "no"; 2 where the input is refused, with one line
 * per fault on standard error and nothing on standard output.
 */
import { run } from './commands.ts';

const { status, stdout, stderr } = await run(process.argv.slice(2));
process.stdout.write(stdout);
process.stderr.write(stderr);
process.exitCode = status;
