// What Plan says of shores: choosing one, its form, its station, what the numbers mean.

import { unit } from './unit.js';

export const shores = {
  catalogue: {
    coming: 'The list of stations is on its way to this phone…',
    wanted: 'The list of stations is not on this phone yet. It is 0.5 MB, once; this phone says that data is dear, so it waits for your word. After that everything works without signal.',
    failed: 'The list of stations did not come. It is 0.5 MB and needs signal, once.',
    fetch: 'Fetch the list (0.5 MB)',
    again: 'Try again',
  },

  chooser: {
    title: 'Choose a station',
    intro: 'A station is a place whose tide is known. Choose the one nearest to your shore along the coast.',
    find: 'By name',
    findHint: 'A harbour, headland or town near your shore',
    searching: 'Searching…',
    /** @param {number} n */
    found: (n) => n === 0 ? 'No station of that name. Try the next larger harbour.' : n === 1 ? 'One station.' : `${n} stations.`,
    /** @param {number} n */
    foundNear: (n) => n === 1 ? 'One station.' : `${n} stations, the nearest first. The nearest is not always on your water: mind headlands and inlets.`,
    near: 'Near me',
    nearWhy: 'Wrackbook asks this phone once where it is, to list the stations near by. The place stays on this phone.',
    nearDo: 'Use where I am',
    locating: 'Asking the phone where it is…',
    nearRefused: 'This phone may not tell where it is. Search by name, or write the position below.',
    nearSlow: 'This phone did not find out where it is. Under the open sky it may; or search by name.',
    nearNone: 'This browser cannot tell where it is. Search by name, or write the position below.',
    hand: 'By position or number',
    lat: 'Latitude of the shore',
    lon: 'Longitude of the shore',
    positionHint: 'Degrees, such as 48,35 or −4.5; south and west are negative.',
    positionDo: 'List the stations near it',
    id: 'Number of a station',
    idHint: 'Its source and number, such as noaa/9414290.',
    idDo: 'Take this station',
    list: 'Stations found',
    needLat: 'Write the latitude as degrees from −90 to 90, such as 48.35.',
    needLon: 'Write the longitude as degrees from −180 to 180, such as −4.5.',
    needId: 'Write the number of a station, such as noaa/9414290.',
    /** @param {string} km @param {string} point */
    away: (km, point) => `${km} km to the ${point}`,
    points: ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'],
    /** @param {string} datum */
    datum: (datum) => `heights above ${datum}`,
    /** @type {Record<string, string>} */
    kinds: { reference: 'reference station', secondary: 'secondary station' },
    noHeight: 'no workable height here',
    refused: 'A shore cannot be set here',
    /** @param {string} name */
    msl: (name) => `Heights at ${name} count from mean sea level, not from a chart datum. A drying height on a chart would mean another water level here, and lows would all be negative: so no workable height can be set. Choose a station with a chart datum.`,
    instead: 'The nearest stations with a chart datum:',
    insteadNone: 'None of the hundred nearest stations has a chart datum. Search by the name of a larger harbour.',
  },

  form: {
    title: 'Your shore',
    newTitle: 'A new shore',
    draft: 'What you typed before is still here.',
    station: 'Station',
    otherStation: 'Choose another station',
    keepStation: 'Keep this station',
    changedStation: 'Another station counts its heights from another level. Check both heights below.',
    changedRelease: 'The list of stations has changed since these heights were set. Check both; saving says that they hold.',
    name: 'Name of the shore',
    nameHint: 'What you call it. Empty, it is called after the station.',
    below: 'Bare below (metres)',
    /** @param {string} datum */
    belowHint: (datum) => `The water height under which your rocks can be worked, above the station’s ${datum}. Lows can be negative.`,
    wayOff: 'Way back cut at (metres)',
    wayOffHint: 'The height at which water covers the way back. Leave it empty if you do not know it: then you start back at low water.',
    cutOff: 'Can the tide cut you off there?',
    cutOffWhy: 'If the way back crosses a gully, a sand bar, a causeway or the foot of a cliff, water can close it behind you while the rocks are still bare. Then you start back at low water. If you are not sure, leave it at yes.',
    yes: 'Yes, or I am not sure',
    no: 'No, the way back stays dry',
    escape: 'A way of escape',
    escapeHint: 'Where to climb if the way back is cut, such as “steps west of the slip”. Empty means that none is known.',
    times: 'Minutes',
    margin: 'Margin',
    marginHint: 'Minutes kept before the way back is cut.',
    walkOut: 'Walk out',
    walkOutHint: 'Minutes that the slowest child needs from the far end to safe ground.',
    travel: 'From home',
    travelHint: 'Minutes from your door to the shore, with the walk in.',
    swell: 'Stay at home above a swell of (metres)',
    swellHint: 'Your own limit for this shore. Empty sets none; Wrackbook does not know the swell, you compare.',
    marker: 'A marker rock',
    markerWhy: 'A rock that you can see from where you work. When the sea reaches its top, everybody starts back.', // common practice
    markerWhat: 'Which rock',
    markerHeight: 'Its top (metres)',
    needMarkerWhat: 'Write which rock it is.',
    needMarkerHeight: 'Write the height of its top in metres, such as 0.9.',
    night: 'Is gathering in the dark allowed there?',
    nightWhy: 'Many shores forbid it. Ask the authority; until you know, the answer before an outing in the dark is: do not go.',
    nights: { allowed: 'Allowed', forbidden: 'Forbidden', '': 'Not known' },
    more: 'Margin, travel, swell, marker rock, dark, ways, own tide, position',
    wayIn: 'The way in',
    wayOut: 'The way out',
    differences: 'How your shore’s tide differs from the station’s',
    differencesWhy: 'People’s own shores run 15 to 60 minutes off the port, and a little higher or lower. If you have watched it on several calm days, write it here. Empty means: as the station.',
    highMinutes: 'High water comes later by (minutes)',
    lowMinutes: 'Low water comes later by (minutes)',
    highMetres: 'High water stands higher by (metres)',
    lowMetres: 'Low water stands higher by (metres)',
    differencesHint: 'Earlier or lower is negative.',
    place: 'Where the shore is',
    placeHint: 'For sunrise, sunset and the distance to the station. Empty means: at the station.',
    zone: 'Time zone of the shore',
    zoneHint: 'As the tz database names it, such as Europe/Paris.',
    save: 'Show the windows',
    checking: 'Checking with the tide…',
    cancel: 'Back without saving',
    remove: 'Delete this shore',
    gone: 'There is no such shore on this phone.',
    all: 'All shores',

    needStation: 'Choose a station first.',
    needBelow: 'Write metres as a number, such as 0.4 or −0,2.',
    needMetres: 'Write metres as a number, such as 1.1, or leave it empty.',
    needMinutes: 'Write whole minutes, such as 15.',
    /** @param {string} least @param {string} most */
    metresBounds: (least, most) => `Give a height from ${least} to ${most} metres.`,
    /** @param {string} least @param {string} most */
    minutesBounds: (least, most) => `Give from ${least} to ${most} minutes.`,
    both: 'Give both latitude and longitude, or neither.',
    needZone: 'This browser knows no such time zone. Write one such as Europe/Paris.',
    /** @param {number} most */
    tooLong: (most) => `At most ${most} letters.`,
  },

  find: {
    title: 'I do not know the height yet',
    why: 'Remember one good day: when was the shore bare to where you want to work? The height that was predicted for then is a first guess. Weather may have held the sea higher or lower that day, so try it on a few lows.',
    day: 'Day',
    time: 'Time, on the shore’s clock',
    /** @param {string} height @param {string} trend */
    was: (height, trend) => `Predicted for then: ${height} ${unit()}, ${trend}.`,
    /** @param {string} height @param {string} time */
    low: (height, time) => `The lowest water of that day: ${height} ${unit()} at ${time}.`,
    trends: { rising: 'rising', falling: 'falling', turning: 'about to turn' },
    /** @param {string} height */
    use: (height) => `Take ${height} ${unit()} as bare below`,
    noDay: 'Choose a day from 1900 to 2100 and a time.',
    noTime: 'The shore’s clock did not show that time on that day: it was put forward. Choose another.',
    levels: 'What a height is worth here',
    levelsWhy: 'How often the water falls below each height by daylight, in the year to come. On a coast of small range a few centimetres decide. Half of the times are longer than the median.',
    level: 'bare below',
    perMonth: 'a month',
    median: 'median',
    fewest: 'in the leanest month',
    take: 'Take',
    /** @param {string} height */
    takeLabel: (height) => `Take ${height} ${unit()} as bare below`,
    reckoning: 'Counting…',
    /** @param {string} height */
    metres: (height) => `${height} ${unit()}`,
  },

  station: {
    /** @param {string} name */
    distrust: (name) => `What to distrust in ${name}`,
    serious: 'Serious.',
  },

  head: {
    change: 'Change',
    /** @param {string} name */
    changeLabel: (name) => `Change the shore, now ${name}`,
    numbers: 'What these numbers mean',
    /** @param {string} name */
    unkept: (name) => `This phone refused to keep ${name} as it is now. It works until you close this page: write its heights down, or make room and try again.`,
    keepAgain: 'Try to keep it again',
  },

  shores: {
    title: 'Shores',
    intro: 'Choose the shore that Plan is for.',
    chosen: 'chosen',
    /** @param {string} name */
    choose: (name) => `Choose ${name}`,
    edit: 'Edit',
    /** @param {string} name */
    editLabel: (name) => `Edit ${name}`,
    add: 'Add a shore',
    deleted: 'Deleted',
    seeDeleted: 'Bring back a deleted shore',
    /** @param {string} name */
    wasDeleted: (name) => `${name} is deleted.`,
    undo: 'Bring it back',
    /** @param {string} name */
    undoLabel: (name) => `Bring it back: ${name}`,
    none: 'No shore is left. Add one, or bring one back.',
    /** @param {string} name */
    isChosen: (name) => `${name} is chosen.`,
    /** @param {string} name */
    isBack: (name) => `${name} is back.`,
  },

  doubt: {
    title: 'Does the height still hold?',
    /** @param {string} was @param {string} is */
    release: (was, is) => `The list of stations has changed: your heights were set with release ${was}, this is ${is}.`,
    /** @param {string} is */
    unknownRelease: (is) => `It is not on file with which list of stations your heights were set; this is release ${is}.`,
    /** @param {string} name */
    gone: (name) => `${name} is no longer in the list. Choose another station and set the heights again.`,
    /** @param {string} name @param {string} was @param {string} is */
    datum: (name, was, is) => `${name} counted its heights from ${was}; now it counts from ${is}. The same number means another water level.`,
    /** @param {string} name @param {string} datum */
    same: (name, datum) => `${name} still counts its heights from ${datum}. Its constants may be newer, and its predictions a little different.`,
    looking: 'Looking at the station…',
    /** @param {string} below @param {string} [wayOff] */
    ask: (below, wayOff) => `You set: bare below ${below} ${unit()}${wayOff ? `, way back cut at ${wayOff} ${unit()}` : ''}. No window is shown until you have answered.`,
    holds: 'The height still holds',
    checked: 'I have checked: it still holds',
    again: 'Set it again',
    choose: 'Choose another station',
  },

  install: {
    title: 'Put Wrackbook on this phone',
    why: 'On the home screen it opens without signal, and the phone does not clear what it keeps. Some phones do not carry over what was saved in the browser.',
    first: 'So do it first.',
    prompt: 'Install it',
    share: 'On an iPhone or iPad: tap Share, then “Add to Home Screen”. Elsewhere: open the browser’s menu, then “Install” or “Add to Home screen”.',
    persisted: 'Kept for good: the browser has promised not to clear it.',
    notPersisted: 'The browser may clear it when room is short, or if you do not come for a while.',
  },

  numbers: {
    title: 'What the numbers mean',
    noShore: 'Choose a shore first; then its numbers are explained here.',
    named: 'Name and number',
    station: 'Station',
    where: 'Where',
    /** @param {string} km @param {string} point */
    fromShore: (km, point) => `${km} km to the ${point} of the shore`,
    atStation: 'The shore’s own position is not on file; sun and distance are reckoned as if it were at the station.',
    kind: 'How it is reckoned',
    reference: 'From its own constants: the tides of the moon and sun, measured there.',
    /** @param {string} name @param {string} km */
    secondary: (name, km) => `From the tide at ${name}, ${km} km away, by fixed differences:`,
    /** @param {string} kind @param {string} minutes @param {string} height */
    difference: (kind, minutes, height) => `${kind} water ${minutes}, ${height}`,
    high: 'high',
    low: 'low',
    /** @param {number} n */
    later: (n) => n === 0 ? 'at the same time' : n > 0 ? `${n} min later` : `${-n} min earlier`,
    /** @param {string} n */
    timesHeight: (n) => `height times ${n}`,
    /** @param {string} n */
    plusHeight: (n) => `height plus ${n} ${unit()}`,
    own: 'Your shore’s own differences',
    epoch: 'Measured',
    // NOAA gives the years over which the datums were averaged, not those of the record.
    datumEpoch: 'Its levels were averaged over',
    /** @param {string} from @param {string} to */
    span: (from, to) => `${from} to ${to}`,
    noEpoch: 'It is not on file when.',
    datum: 'Heights count from',
    /** @param {string} msl */
    msl: (msl) => `Mean sea level is ${msl} ${unit()} above it.`,
    /** @param {string} lowest @param {string} highest */
    range: (lowest, highest) => `The astronomical tide there runs from ${lowest} to ${highest} ${unit()}.`,
    /** @type {Record<string, string>} */
    datums: {
      MLLW: 'MLLW, mean lower low water: the average of each day’s lower low over 19 years. About half of those lows fall below zero, so negative lows are ordinary.',
      LAT: 'LAT, lowest astronomical tide: the lowest that moon and sun alone can bring. Predicted lows are hardly ever negative; the sea itself can be.',
      LLWLT: 'LLWLT, lower low water of large tides: the average of each year’s lowest low over 19 years. Few lows fall below zero.',
      NLLW: 'NLLW, nearly lowest low water: mean sea level less the sum of the four largest tides. Lows below zero are rare.',
      MLWS: 'MLWS, mean low water springs: the average low at springs. Large springs fall below zero.',
      CD: 'CD, the chart datum of the place: the zero of its sea chart, close to the lowest tide.',
      TLT: 'TLT, theoretical lowest tide: China’s chart datum, about the lowest that its main tides bring together.',
      MSL: 'MSL, mean sea level: not a chart datum. Half of all water is below zero; no workable height can be set.',
      STND: 'STND, the zero of the gauge: a mark of the station itself, tied to no tide.',
    },
    otherDatum: 'A zero that its source names so; this app knows no more of it.',
    form: 'Form of the tide',
    /** @param {string} form */
    formNumber: (form) => `(K1+O1)/(M2+S2) is ${form}: under 0.25 there are two like lows a day; over 3 there is one.`,
    practice: 'Practice',
    /** @type {Record<string, string>} */
    practices: {
      yearly: 'Yearly: the slow turning of the moon’s path is held still through each year, as NOAA does in its tables.',
      daily: 'Daily: the slow turning of the moon’s path is followed through every day.',
    },
    cautions: 'What to distrust in it',
    noCautions: 'Nothing doubtful is on file. That does not make it right on your shore: compare with what you see.',
    leavesOut: 'What the prediction leaves out',
    left: [
      'It is astronomical: moon and sun alone.',
      'Wind: onshore wind holds the water up, for hours after it drops.',
      'Air pressure: about 1 cm higher for each hPa below 1013.',
      'Swell and waves, which run up far beyond the level of the water.',
      'Rivers after rain or snow melt, sluices, and ice.',
      'Surges and seiches, and the ground moving since it was measured.',
      'So every window is also reckoned with 0.2 m more water, and off by is the earlier of the two.',
    ],
    backTitle: 'How “start back” and “off by” are reckoned',
    /** @param {number} margin */
    back: (margin) => [
      'Be off the rocks by the earliest of these:',
      `the rising water, 0.2 m above prediction, reaches “way back cut at”, less your margin of ${margin} minutes;`,
      'an hour after low water;',
      'the end of the light, less the walk out.',
      'Where the shore can be cut off, or the height of the way back is not known, you start back at low water.',
    ],
    /** @param {number} walk */
    start: (walk) => `Start back is off by less your walk out of ${walk} minutes, and stands larger because it is the one to keep.`,
    /** @param {string} below @param {string} cut @param {string} release */
    set: (below, cut, release) => `Bare below ${below} ${unit()}; ${cut}. Set with release ${release} of the list of stations.`,
    data: 'Whose data this is',
    /** @param {number} n */
    stations: (n) => `${n} stations`,
    licence: 'Licence',
    versions: 'Versions',
    tz: 'Time zones (tz)',
    release: 'List of stations',
    core: 'Core',
    unknown: 'not known yet',
    notSafe: 'None of this says that a shore is safe. Local authorities, harbour and coastguard stand above this tool. Not for navigation.',
  },
};
