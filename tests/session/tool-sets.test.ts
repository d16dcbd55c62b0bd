import { describe, expect, it } from 'vitest';
import type { RoomTool } from '../../machines/case.context.ts';
import {
  bringingIn,
  checkToolSet,
  readToolSet,
  setOf,
  toolSetFile,
  withSet,
  type ToolSet,
} from '../../src/session/tool-sets.ts';

const plates: ToolSet = {
  name: 'Plates, small',
  tools: [
    { tool: 'driver-hexalobular', size: 15 },
    { tool: 'hard-metal-drill', fits: [3.5, 5] },
    { tool: 'hollow-reamer', inner: 5, outer: 6.5 },
    { tool: 'gouge' },
  ],
};
const file = { format: 'counterturn-tool-set', formatVersion: 1, ...plates };
const bytes = (value: unknown) => new TextEncoder().encode(typeof value === 'string' ? value : JSON.stringify(value));
const paths = (value: unknown) => {
  const read = checkToolSet(value);
  return 'faults' in read ? read.faults.map(({ path }) => path) : [];
};

describe('a file of a tool set', () => {
  it('comes back as it went out', () => {
    expect(readToolSet(bytes(toolSetFile(plates).content))).toEqual({ set: plates });
    expect(toolSetFile(plates).name).toBe('plates-small.tools.json');
    expect(toolSetFile({ ...plates, name: 'Æ' }).name).toBe('tools.tools.json');
  });

  it.each([
    ['something else', [], ['file']],
    ['another format', { ...file, format: 'tools' }, ['format']],
    ['a later version', { ...file, formatVersion: 2 }, ['formatVersion']],
    ['no name', { ...file, name: ' ' }, ['name']],
    ['a name too long for a touch', { ...file, name: 'x'.repeat(61) }, ['name']],
    ['no tools', { ...file, tools: [] }, ['tools']],
    ['tools that are no list', { ...file, tools: 'gouge' }, ['tools']],
    ['an unknown field', { ...file, owner: 'ours' }, ['owner']],
    ['an unknown tool', { ...file, tools: [...plates.tools, { tool: 'crowbar' }] }, ['tools[4].tool']],
    ['a field that belongs to a case', { ...file, tools: [{ tool: 'gouge', present: false }] }, ['tools[0].present']],
    ['a size that is none', { ...file, tools: [{ tool: 'driver-hexalobular', size: -1 }] }, ['tools[0].size']],
    ['a diameter that is none', { ...file, tools: [{ tool: 'reverse-tap', fits: [3.5, '5'] }] }, ['tools[0].fits[1]']],
  ])('is refused with the path for %s', (_, value, expected) => {
    expect(paths(value)).toEqual(expected);
  });

  it('is refused with its place where it is broken', () => {
    const read = readToolSet(bytes('{"format": "counterturn-tool-set",'));
    expect('faults' in read && read.faults[0]?.message).toBe('broken JSON');
    const twice = readToolSet(bytes('{"name": "a", "name": "b"}'));
    expect('faults' in twice && twice.faults[0]).toEqual({ path: 'name', message: 'duplicate key', code: 'duplicate' });
  });
});

describe('a set in a room', () => {
  it('brings in what is not there yet, each tool with its sizes', () => {
    const room: RoomTool[] = [{ tool: 'gouge' }, { tool: 'driver-hexalobular', size: 25 }];
    expect(bringingIn(plates, room)).toEqual([
      { type: 'tool-in-room', present: true, tool: 'driver-hexalobular', size: 15 },
      { type: 'tool-in-room', present: true, tool: 'hard-metal-drill', fits: [3.5, 5] },
      { type: 'tool-in-room', present: true, tool: 'hollow-reamer', inner: 5, outer: 6.5 },
    ]);
    expect(bringingIn(plates, [...plates.tools])).toEqual([]);
  });

  it('is made of all that stands in the room', () => {
    expect(setOf(' Plates, small ', plates.tools)).toEqual(plates);
  });
});

describe('the sets of a device', () => {
  it('take one more, none twice, and never overwrite one of the same name', () => {
    const one = withSet([], plates);
    expect(withSet(one, plates)).toEqual([plates]);
    const other = { ...plates, tools: [{ tool: 'gouge' as const }] };
    const two = withSet(one, other);
    expect(two.map(({ name }) => name)).toEqual(['Plates, small', 'Plates, small (2)']);
    expect(two[0]).toEqual(plates);
    expect(withSet(two, { ...other, tools: [{ tool: 'pick' }] })[2]?.name).toBe('Plates, small (3)');
  });
});
