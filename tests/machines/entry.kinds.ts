/** Kinds of fields for the tables of entries: what each may hold, and what is said of anything else. */
/** What a field may hold and what it may not, each with what is said of it. */
export interface Kind {
  good: readonly unknown[];
  bad: readonly (readonly [unknown, string])[];
}
export const number = [
  ['7', 'expected a number'],
  [Infinity, 'expected a finite number'],
] as const;
export const text: Kind = {
  good: ['x', 'as planned, ✓ \ud83d\ude00'],
  bad: [
    [5, 'expected text'],
    ['', 'must not be empty'],
    ['\ud83d', 'not well-formed Unicode'],
  ],
};
export const anyText: Kind = { good: ['', 'x'], bad: text.bad.filter(([value]) => value !== '') };
export const screw: Kind = {
  good: ['1', 'x'.repeat(64)],
  bad: [...text.bad, ['x'.repeat(65), 'a screw id has at most 64 characters']],
};
export const flag: Kind = { good: [true, false], bad: [['yes', 'expected true or false']] };
export const finite: Kind = { good: [-3.5, 0, 12], bad: number };
export const length: Kind = { good: [0, 12.5], bad: [...number, [-0.1, 'must not be negative']] };
export const above: Kind = {
  good: [0.1, 5],
  bad: [...number, [0, 'must be greater than 0'], [-1, 'must be greater than 0']],
};
export const share: Kind = {
  good: [0, 0.3, 1],
  bad: [...number, [-0.01, 'must lie between 0 and 1'], [1.01, 'must lie between 0 and 1']],
};
export const count: Kind = {
  good: [0, 3],
  bad: [...number, [1.5, 'expected a whole number'], [-1, 'must not be negative']],
};
export const from1: Kind = {
  good: [1, 3],
  bad: [...number, [1.5, 'expected a whole number'], [0, 'must be at least 1']],
};
export const time: Kind = {
  good: ['2026-03-04T09:00:00+01:00'],
  bad: [
    [5, 'expected a time'],
    ['09:00', 'not an RFC 3339 time with an offset'],
  ],
};
export const oneOf = (options: readonly string[], refused = 'nothing of these'): Kind => ({
  good: options,
  bad: [[refused, `unknown value "${refused}", expected one of ${options.join(', ')}`.slice(0, 300)]],
});
export const list = (good: readonly unknown[]): Kind => ({ good: [good, []], bad: [[{}, 'expected a list']] });
