// What Tanks says of handing on, calling back, companions, the hard moments and disposal.
// Each fact has its source beside it, or is marked as common practice.

/** Where a step comes from, in words. */
const CP = 'common practice';
const noaa = 'NOAA Fisheries on Caulerpa in aquaria';
const invasive = 'state offices against invasive species (Massachusetts, Washington)';
const chaeto = 'Odom, Solomon and Walters: tests on Chaetomorpha';
const spc = 'SPC guidelines on aquatic biosecurity';
const eifac = 'FAO, EIFAC report on introductions';
const ours = 'our own, on the careful side';
const hobby = 'keepers of siphonous weed';
const pedersen = 'Pedersen and Borum 1997';
const wynne = 'Wynne and others 2015: 33 µg/L of copper, from brass in a filter';
const hemigrapsus = 'a study of Hemigrapsus: a fit crab rights itself within about 5 seconds';
const surf = 'Surf Life Saving Australia, shore animals';

/** @typedef {{say: string, from: string, to?: 'reading' | 'check' | 'death' | 'help' | 'water' | 'trimmings' | 'specimen'}} Step to: where a link leads */
/** @typedef {{title: string, first: string, steps: Step[], then?: string}} Card */

export const fate = {
  /** @type {Record<string, Card>} */
  cards: {
    melting: {
      title: 'Weed is melting', first: 'It turns soft, pale or slimy. It fouls the water fast, brown weed fastest.',
      steps: [
        { say: 'Look before you touch. How much, which weed? Does anything gasp or lie still? Take a photo.', from: CP },
        { say: 'Lift out what is soft, whole, with this tank’s own net, into a tub of its own. Not into the sink.', from: CP, to: 'trimmings' },
        { say: 'An air stone in, light down by half.', from: CP },
        { say: 'Read temperature, salinity and ammonia.', from: CP, to: 'reading' },
        { say: 'Change a quarter of the water for new water within 1 unit of salinity and 2 °C.', from: CP },
        { say: 'Green weed that turns pale may be about to shed spores and cloud the tank: take it out now. A weekly trim puts that off.', from: hobby },
        { say: 'Starved? Fast green weed melts first where food in the water runs out.', from: pedersen },
        { say: 'Note what you saw as a sign.', from: CP, to: 'check' },
      ],
    },
    death: {
      title: 'Somebody has died', first: 'One body can poison the others: take it out first, wonder afterwards.',
      steps: [
        { say: 'Is it dead? A snail may lie shut for 1 to 3 days. A whole clear shrimp or crab may be an empty skin.', from: CP },
        { say: 'Take the body out with this tank’s own net. Bag it, keep it cold, take a photo. Do not throw it away before you know why.', from: CP },
        { say: 'Nothing goes from this tank to another now: no net, no water, no animal.', from: spc },
        { say: 'Look at everybody else: do they breathe, hold on, right themselves?', from: hemigrapsus },
        { say: 'Read temperature, salinity, ammonia and pH.', from: CP, to: 'reading' },
        { say: 'Ammonia shown, or the water smells: change a quarter of it now, and again tomorrow.', from: CP },
        { say: 'Several at once, and only the spineless: think of copper or brass in the water, of soap, of sprays. Change half the water, take the metal out.', from: wynne },
        { say: 'Fish or several animals sick: ask a vet for fish, or the authority for animal health. Some diseases must be told.', from: CP },
        { say: 'Note the death. Give a cause only if you know it: one that nobody can explain starts the wait anew.', from: ours, to: 'death' },
      ],
    },
    cloudy: {
      title: 'The water is cloudy', first: 'White: germs bloom after a death or too much food. Green: weed has shed spores.',
      steps: [
        { say: 'Does anybody gasp at the surface? An air stone in at once, the pump up.', from: CP },
        { say: 'Look for a body, for weed gone soft, for food left over. Take it out with this tank’s own net.', from: CP },
        { say: 'A green cloud beside weed turned white: it has shed spores and let go all it had stored. Take the rest of it out.', from: hobby },
        { say: 'Read temperature, ammonia and pH.', from: CP, to: 'reading' },
        { say: 'Change a quarter of the water, within 1 unit and 2 °C; again tomorrow if it is not clear.', from: CP },
        { say: 'Do not feed today.', from: CP },
        { say: 'Note what you saw as a sign.', from: CP, to: 'check' },
      ],
    },
    smell: {
      title: 'It smells', first: 'Something rots. Rotten eggs come from sand or stone without air.',
      steps: [
        { say: 'Open a window. Keep your face, and children, away from over the tank.', from: CP },
        { say: 'Find it: a mussel that gapes, a snail that hangs out, brown weed, a dead spot in the sand. Bivalves die unseen.', from: CP },
        { say: 'Lift it out into a bag and close it. Do not stir black sand: what is in it is poison to the tank.', from: CP },
        { say: 'An air stone in, at the other end from the black sand.', from: CP },
        { say: 'Read ammonia, pH and temperature.', from: CP, to: 'reading' },
        { say: 'Change a quarter of the water, within 1 unit and 2 °C.', from: CP },
        { say: 'Look at everybody, and note what you saw.', from: CP, to: 'check' },
      ],
    },
    hurt: {
      title: 'Stung or cut in tank work', first: 'People first. The tank can wait.',
      steps: [
        { say: 'Hand out of the tank. Call another grown-up. Unplug heater and pump before anybody reaches in again.', from: CP },
        { say: 'Trouble breathing, a swelling face, faintness, great pain: call the emergency number now.', from: CP, to: 'help' },
        { say: 'A sting or bite: first aid differs by animal and by country. Call first; the card says what your country’s council says.', from: surf, to: 'help' },
        { say: 'Blue-ringed octopus or cone shell: call now, even if it does not hurt. Stay with the person; be ready to breathe for them.', from: surf, to: 'help' },
        { say: 'A cut: rinse it long under the clean tap, press until it stops, cover it. No more tank work with that hand.', from: CP },
        { say: 'A wound that grows red, hot or swollen, or a lump that comes weeks later: see a doctor and say that it was a sea-water tank.', from: CP },
      ],
    },
  },
  trouble: {
    title: 'Something is wrong', why: 'The first hour. Choose what you see; do the steps in order.',
    first: 'In order',
    from: (/** @type {string} */ source) => (source === CP || source === ours ? source[0].toUpperCase() + source.slice(1) : `Source: ${source}`),
    where: 'Which tank?', choose: 'Choose a tank', noTank: 'No tank is on file: note it on paper for now.',
    links: { reading: 'Note a reading', check: 'Note what you saw', death: 'Note a death', help: 'Emergency card and first aid', water: 'What to do with the water', trimmings: 'What to do with weed', specimen: 'What to do with a body' },
    disposal: 'What to do with a body, weed or water',
    nobody: 'No program knows what ails an animal. Where you doubt, ask a vet, a public aquarium or the authority.',
  },

  handOn: {
    title: 'Hand on', of: (/** @type {string} */ name) => `Hand on: ${name}`,
    why: 'To a friend or a class. It stays traceable to the shore and the day, and can be called back.',
    refused: 'Not to be handed on',
    reasons: /** @type {Record<string, string>} */ ({
      stopped: 'Something was found here that the authority must hear of. Nothing leaves: do not release it, give it away or bin it. Ask the authority.',
      notify: 'Something was found here that the authority must hear of. Nothing leaves: do not release it, give it away or bin it. Ask the authority.',
      waiting: 'Its wait is not done. What one cannot see yet would go along. Keep it, look every day, hand it on afterwards.',
      sign: 'A sign is open in its display. What it is would go along. Have an adult look into it first.',
      question: 'Its display is in question: somebody or some water came into it before the wait was done. Treat it as a quarantine until a keeper has decided.',
      unidentified: 'Nobody has named it. It may be a kind that must not be passed on. Have it named first.',
      controlled: 'It is a protected, controlled or invasive kind. Somewhere the law forbids passing it on. Keep it apart and ask the authority.',
      isolated: 'It is kept isolated. Nothing of it leaves. Ask the authority.',
      gone: 'It is no longer here.',
    }),
    otherReason: (/** @type {string} */ word) => `Something speaks against it that this version has no words for (${word}). Keep it.`,
    notReckoned: 'How it stands is not reckoned, so it is not handed on now. Wait until it is.',
    stale: 'How it stands is being reckoned anew, has changed, or this phone’s clock is wrong. Nothing was handed on. Look again in a moment.',
    caution: 'That nothing here speaks against it is no permission. Some kinds, and live fish in many places, may not be passed on without a licence. Ask the authority where they are going.',
    invasive: (/** @type {string} */ regions) => `It is invasive in ${regions}. Do not hand it on there.`,
    howMuch: 'How much', part: 'A part of it', whole: 'All of it',
    amount: 'Amount of the part', amountHint: (/** @type {string} */ all) => `Of ${all}. May stay empty.`, amountNoHint: 'May stay empty.',
    to: 'To whom', toHint: 'A name by which you find them again, should it be called back. No address and no number: every phone of the household shows it.',
    as: 'For what', uses: { friend: 'A friend', class: 'A class', aquarium: 'An aquarium or club' },
    accept: 'They know that it must never be released, nor its water, and whom to ask.',
    wrong: { to: 'Say to whom. Without a name it cannot be called back.', long: 'At most 300 letters.', amount: 'A number, such as 20. Leave it empty if you do not know.', more: 'That is more than there is.', accept: 'Tell them first. Then say so here.' },
    do: 'Hand it on',
    done: (/** @type {string} */ name, /** @type {string} */ to) => `${name} is handed on to ${to}.`,
    trace: 'Where it comes from', lot: (/** @type {string} */ code) => `Lot ${code}`,
    fromFind: (/** @type {string} */ shore, /** @type {string} */ day) => `${shore}, ${day}`,
    fromElsewhere: (/** @type {string} */ source) => `From ${source}`,
    fromUnknown: 'No find and no source are on file. It cannot be traced to a shore.',
    label: 'Print its label', undo: 'Take it back', undone: 'Taken back.',
    other: 'Hand on another part', recall: 'Call this lot back', disposal: 'It cannot stay and cannot be handed on',
    sentence: (/** @type {string} */ use, /** @type {string} */ to) => `${to}, ${use.toLowerCase()}`,
  },

  recall: {
    title: 'Call back', of: (/** @type {string} */ name) => `Call back: ${name}`,
    why: 'Everything of this lot, whoever has it, and everything that shared its water.',
    notReckoned: 'The list is not reckoned yet.', failed: 'The list could not be reckoned here. Do not take the silence for an all-clear.',
    as: { lot: 'the lot', fragment: 'a part of it', mate: 'shared its water' },
    withThem: (/** @type {string} */ to) => `with ${to}`, givenUnknown: 'given away, nobody says to whom',
    goneHow: { died: 'dead', 'disposed of': 'disposed of', lost: 'lost', merged: 'put together with another lot' },
    inTank: (/** @type {string} */ name) => `in ${name}`, nowhere: 'no tank is on file',
    here: 'Here', away: 'With others', over: 'No longer alive, or gone',
    systems: 'Water that it was in, or that received of it',
    count: (/** @type {number} */ n) => (n === 1 ? '1 on the list' : `${n} on the list`),
    share: 'Share as text', copied: 'Copied. Paste it into a message.', byHand: 'Copy this by hand:',
    textHead: (/** @type {string} */ name, /** @type {string} */ lot, /** @type {string} */ when) => `Called back: ${name}, lot ${lot}, ${when}.`,
    textFoot: 'Keep it apart. Do not release it, give it away or bin it. Tell us.',
    todo: ['Ask those who have one to keep it apart: not to release, give away or bin it.', 'Isolate what is here: own nets, no water out.', 'Where the law has a say, the authority decides what becomes of it.'],
    choose: 'Which lot?', none: 'No specimen is on file.',
  },

  companions: {
    title: 'Who harms whom', why: 'What is known of those who live together. A caution and no ban: many get on for months.',
    where: 'System', choose: 'Choose a system',
    how: { eats: 'may eat', stings: 'may sting', overgrows: 'may overgrow', robs: 'may rob', starves: 'may leave no food for' },
    line: (/** @type {string} */ who, /** @type {string} */ how, /** @type {string} */ whom) => `${who} ${how} ${whom}`,
    none: 'Nothing is on file against these living together. That is no promise: look at them every day.',
    alone: 'Fewer than two live here.',
    notReckoned: 'Not reckoned.', failed: 'This could not be reckoned here. Do not take the silence for an all-clear.',
    whatIf: 'Would it go together?', who: 'Who', into: 'Into',
    whatIfNone: 'Nothing is on file against it. That is no promise.',
    unsure: (/** @type {string[]} */ names) => `Nobody has named ${names.join(', ')}: nothing can be said of it.`,
    none_: 'No system has anybody in it.',
  },

  disposal: {
    title: 'What must go',
    never: 'Nothing from a tank goes back to the sea: no animal, weed, stone, water or packing. Not the one that came from there either.',
    neverFrom: `${noaa}; ${invasive}`,
    stop: 'Something that the authority must hear of? Stop. Keep all of it, closed and cold. Do not bin it. Ask first.',
    specimen: 'An animal or plant',
    specimenSteps: [
      { say: 'Can it stay? A jar of its own, a larger tank, time. It is the best way out.', from: ours },
      { say: 'Can somebody else keep it? Only when its wait is done, it is named, and no law is against it. Ask a public aquarium, a school, a club.', from: ours },
      { say: 'Can it do neither? Ask a vet, a public aquarium or the authority how it may be killed without suffering, and by whom. The law may say. Wrackbook gives no instructions: done wrong it is cruel.', from: ours },
      { say: 'A dead animal: into two closed bags, into the freezer, then into the household rubbish on the day that it is collected. Not on the compost, not down the toilet, not to other animals, not as bait.', from: CP },
    ],
    weed: 'Weed and trimmings',
    weedSteps: [
      { say: 'Seal it in a bag and freeze it for 24 hours or more. Then the rubbish.', from: noaa },
      { say: 'Or boil it for a minute, or 15 seconds in the microwave, before the rubbish.', from: chaeto },
      { say: 'Not on the compost, not into the sink: of some weeds 2 mm grow on.', from: 'a guide to marine pests, on Caulerpa' },
      { say: 'Sieve the water that it lay in, and treat what the sieve holds alike.', from: CP },
    ],
    water: 'Waste water',
    waterSteps: [
      { say: 'Never into the street, a ditch or a storm drain: they run to the sea.', from: invasive },
      { say: 'Water of the bag or bucket goes into no tank. It is discarded, or made safe first.', from: eifac },
    ],
    drainSays: /** @type {Record<string, {say: string, from: string}>} */ ({
      sewer: { say: 'Yours goes into a foul sewer: down the sink or the toilet, a sieve before it.', from: noaa },
      septic: { say: 'Yours goes into a septic tank: a little at a time, for salt harms what works in it; and only where nothing seeps to a stream or the sea. Else carry it to a foul sewer.', from: CP },
      sea: { say: 'Yours runs to the sea: no water from a tank goes into it. Carry it in closed cans to a drain into a foul sewer. What is little, such as the water of a bag, is boiled first. Ask the authority about more.', from: `${noaa}; ${spc}` },
      unknown: { say: 'Nobody knows where yours drains. Take it for one to the sea until somebody does: carry the water to a drain into a foul sewer, boil the little of a bag first. Ask the water company.', from: ours },
    }),
    drainKeeper: 'An adult says so for the household.',
    drainKept: 'Kept.',
    change: 'Say otherwise',
    tools: 'Nets, cups and hands: washed in fresh water and dried before they touch another tank.',
    toolsFrom: spc,
    write: (/** @type {string} */ name) => `Note that ${name} is gone`,
    stopped: 'It must not be disposed of now: something was found that the authority must hear of. Ask the authority.',
    notReckoned: 'How it stands is not reckoned. Wait until it is, so that nothing is thrown away that the authority must see.',
    handOn: 'Hand it on instead',
  },
};
