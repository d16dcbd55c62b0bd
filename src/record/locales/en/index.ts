import * as base from './base.ts';
import * as entries from './entries.ts';
import * as forms from './forms.ts';
import * as items from './items.ts';
import * as sections from './sections.ts';
import * as stillIn from './still-in.ts';

export const locale = { ...base, entries, forms, items, sections, stillIn };
