// What Tanks says of its home, its systems and specimens, checks and settling in.

export const tanks = {
  title: 'Tanks',
  body: 'Here will stand what you have brought home: how it is acclimated and how many quiet days of quarantine it has behind it. For now, keep your own log.',
  unnamed: 'Not named',
};
