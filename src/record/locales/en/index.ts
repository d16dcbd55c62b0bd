import * as base from './base.ts';
import * as brief from './brief.ts';
import * as entries from './entries.ts';
import * as firstPage from './first-page.ts';
import * as forms from './forms.ts';
import * as items from './items.ts';
import * as papers from './papers.ts';
import * as picture from './picture.ts';
import * as sections from './sections.ts';
import * as stillIn from './still-in.ts';

export const locale = { ...base, brief, entries, firstPage, forms, items, papers, picture, sections, stillIn };
