// The forms in which rules are written: from a notice, and the household's own. And what a set
// asks before a take.

export const questions = {
  purpose: 'What is the outing for: home, a lesson, a sale?',
  state: 'Is it attached, adrift, living or empty?',
  amount: 'How many are there, or how much?',
  weight: 'What does it weigh?',
  /** @param {string} weighed */
  mass: (weighed) => `What does it weigh, ${weighed}?`,
  share: 'Which share of the patch is it?',
  container: 'In which container is it?',
  who: 'Who takes it?',
  total: 'Is the total for everybody not yet reached?',
  /** @type {Record<string, string>} */
  size: { length: 'How long is it?', height: 'How high is it?', diameter: 'How wide is it?', shell: 'How long is the shell?', carapace: 'How long is the carapace?', frond: 'How long is the frond?' },
  gear: 'With what is it taken?',
  use: 'What is it taken for?',
  substrate: 'What comes off with it?',
  /** @param {string} name */
  licence: (name) => `Has who takes it the licence “${name}”?`,
  /** @param {string} whom */
  consent: (whom) => `Has who takes it the consent of ${whom}?`,
  age: 'How old is who takes it?',
  cut: 'Is it cut as the rules say?',
  level: 'Between which heights was it found?',
  place: 'Where exactly was it found?',
};

export const ruleForm = {
  /** @type {Record<string, string>} */
  axis: { shell: 'along the shell', length: 'its length', height: 'its height', diameter: 'across', carapace: 'along the carapace', frond: 'along the frond' },
  /** @type {Record<string, string>} */
  weighed: { '': 'not said', wet: 'wet', drained: 'drained', dried: 'dried', 'in the shell': 'in the shell', shelled: 'out of the shell' },
};
