// What Plan says of shores: choosing one, its form, its station.

export const shores = {
  form: {
    title: 'Your shore',
    station: 'Station',
    find: 'Find a station by its name',
    findHint: 'A harbour or headland near your shore',
    searching: 'Searching…',
    /** @param {number} n */
    found: (n) => n === 0 ? 'No station of that name. Try the next larger harbour.' : n === 1 ? 'One station.' : `${n} stations.`,
    near: 'Near me',
    nearRefused: 'This phone did not tell where it is. Search by name.',
    /** @param {string} km */
    away: (km) => `${km} km away`,
    secondary: 'secondary',
    below: 'Bare below (metres)',
    belowHint: 'The water height under which your shore can be worked, above the station’s chart datum.',
    wayOff: 'Way back cut at (metres)',
    wayOffHint: 'The height at which water covers the way back. Leave it empty if you do not know it: then you start back at low water.',
    cutOff: 'This shore can be cut off by the tide',
    walkOut: 'Minutes to walk out, for the slowest',
    save: 'Show the windows',
    cancel: 'Back without changing',
    needStation: 'Choose a station first.',
    needMetres: 'Write metres as a number, such as 0.4.',
    needMinutes: 'Write whole minutes, such as 15.',
  },
};
