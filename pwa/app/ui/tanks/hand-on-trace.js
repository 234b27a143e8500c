// The way back of a specimen: its lot, the shore and the day it comes from.

import { localDay } from '../parts/when.js';
import { deleted, shores } from '../plan/shore-state.js';
import { records } from '../../data/book.js';
import { lineOf } from './label-facts.js';
import { events, specimenOf, specimens } from './picture-state.js';

/**
 * @param {string} id of a specimen
 * @returns {{shore: string, day: string, find: string} | {source: string, shore: ''} | undefined} undefined where the book does not say
 */
export function originOf(id) {
  for (const one of lineOf(id, specimens.value, events.value)) {
    const specimen = specimenOf(one);
    const find = specimen?.find && records('find').value.find((rec) => rec.id === specimen.find)?.fields;
    if (find) {
      const outing = find.outing && records('outing').value.find((rec) => rec.id === find.outing)?.fields;
      const shore = [...shores.value, ...deleted.value].find((at) => at.id === (find.shore ?? outing?.shore));
      return { shore: shore?.name ?? '', day: localDay(Date.parse(find.at), shore?.zone ?? 'UTC'), find: specimen.find };
    }
    if (specimen?.source) return { source: String(specimen.source), shore: '' };
  }
  return undefined;
}
