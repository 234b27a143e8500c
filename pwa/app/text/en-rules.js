// What House says of rule sets.

export const rules = {
  title: 'Rules on file',
  none: 'No rules are on file. What is not on file is not allowed by anything here: ask the authority.',
};
