/** The command as a process of its own: what reaches the shell. */
import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { begun, caseOf, fileWith } from './files.ts';

const root = resolve(import.meta.dirname, '../..');
const spawn = (command: string, ...args: string[]) => {
  const { status, stdout, stderr } = spawnSync(command, args, { cwd: root, encoding: 'utf8', timeout: 60_000 });
  return { status, stdout, stderr };
};
const counterturn = (...args: string[]) => spawn(process.execPath, '--import', 'tsx', 'src/cli.ts', ...args);

describe('the command as a process', () => {
  it('prints the answer and nothing else: status 0', () => {
    const { status, stdout, stderr } = counterturn('state', fileWith(caseOf(begun().entries)));
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(JSON.parse(stdout)).toMatchObject({ phase: 'working' });
  }, 60_000);

  it('prints the answer "no": status 1', () => {
    const { status, stdout, stderr } = counterturn('check', fileWith(caseOf(begun().start().entries)));
    expect({ status, stderr }).toEqual({ status: 1, stderr: '' });
    expect(JSON.parse(stdout)).toMatchObject({ outOfOrder: [5] });
  }, 60_000);

  it('prints each fault on a line of its own, no stack trace and no answer: status 2', () => {
    const { status, stdout, stderr } = counterturn(
      'state',
      fileWith(caseOf([{ n: 1, type: 'plate-off', at: 'noon', logged: 'noon', x: 1 }])),
    );
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(
      stderr
        .trimEnd()
        .split('\n')
        .map((line) => line.split(':')[0])
        .sort(),
    ).toEqual(['entries[0].at', 'entries[0].logged', 'entries[0].x']);
  }, 60_000);

  it('runs by its name in the package, with the language and zone of the machine making no difference', () => {
    const file = fileWith(caseOf(begun().entries));
    const plain = spawn('npm', 'run', '--silent', 'counterturn', '--', 'state', file);
    const abroad = spawn(
      'env',
      'TZ=Pacific/Apia',
      'LC_ALL=tr_TR.UTF-8',
      'LANG=tr_TR.UTF-8',
      process.execPath,
      '--import',
      'tsx',
      'src/cli.ts',
      'state',
      file,
    );
    expect(plain.status).toBe(0);
    expect(abroad).toEqual(plain);
  }, 60_000);
});
