/** Every hazard id in brackets anywhere in the tests, comments aside: `[Z3]`. */
import { readdirSync, readFileSync } from 'node:fs';

const root = new URL('../', import.meta.url);
const isComment = (line: string) => /^\s*(\/\/|\*|\/\*)/.test(line);

export const namedHazards: ReadonlySet<string> = new Set(
  readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.tsx?$/.test(file))
    .flatMap((file) => readFileSync(new URL(file, root), 'utf8').split('\n'))
    .filter((line) => !isComment(line))
    .flatMap((line) => line.match(/\[Z\d+\]/g) ?? []),
);
