// The household's own numbers of the handling groups.

import { computed } from '@preact/signals';
import { householdFields } from '../../data/household.js';

/** By group. */
export const own = computed(() => Object.fromEntries(Object.entries(householdFields.value)
  .flatMap(([field, value]) => (field.startsWith('handling/') && value ? [[field.slice('handling/'.length), value]] : []))));
