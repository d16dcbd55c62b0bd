/** What a schema found, as a fault: the code it says in the place of a message, or the code that what it is stands for. */
import type * as v from 'valibot';
import { fault, faultTexts, isFaultCode, type Fault, type FaultCode, type FaultValues } from './fault.ts';

const bare = (text: string): string => text.replace(/^"|"$/g, '');

/** The values that a schema lists as allowed, without quotes. `("a" | "b")` gives `a, b`. */
const known = (expected: string | null): string =>
  expected === null || expected === 'never'
    ? ''
    : expected
        .replace(/^\(|\)$/g, '')
        .split(' | ')
        .map(bare)
        .join(', ');

/** A kind of issue that needs no values. */
const plain: Readonly<Partial<Record<string, FaultCode>>> = {
  string: 'text',
  number: 'number',
  finite: 'finite',
  integer: 'whole',
  boolean: 'true-or-false',
  array: 'list',
  object: 'object',
  strict_object: 'object',
  record: 'object',
  iso_date: 'date-form',
};

function codeOf({ type, expected, received, requirement }: v.BaseIssue<unknown>): [FaultCode, FaultValues?] {
  const value = requirement as number;
  switch (type) {
    case 'literal':
      return String(expected).startsWith('"')
        ? ['exactly-text', { value: bare(String(expected)) }]
        : ['exactly-number', { n: String(expected) }];
    case 'picklist':
      return ['one-of', { value: received, known: known(expected) }];
    case 'min_length':
      return value === 1 ? ['empty'] : ['few', { count: value }];
    case 'max_length':
      return ['long', { count: value }];
    case 'min_value':
      return value === 0 ? ['negative'] : ['least', { n: value }];
    case 'max_value':
      return ['most', { n: value }];
    case 'gt_value':
      return ['above-0'];
    default:
      return [plain[type] ?? 'unfit'];
  }
}

/**
 * An issue as a fault. Where the schema says no code, the English of its library stays for the command line.
 *
 * @param values what stands in the places of the codes that the schema may say, besides what the issue tells itself
 * @example issueFault('side', issue).message // 'unknown value "up", expected one of left, right'
 */
export function issueFault(path: string, issue: v.BaseIssue<unknown>, values: FaultValues = {}): Fault {
  const { message } = issue;
  const [code, own] = codeOf(issue);
  if (!isFaultCode(message)) return { path, message, code, ...(own && { values: own }) };
  const said = Object.entries({ ...own, ...values }).filter(([name]) => faultTexts[message].includes(`{${name}}`));
  return fault(path, message, said.length ? Object.fromEntries(said) : undefined);
}
