// The code of an invitation as people give it: typed, pasted, or as the whole link. Nothing
// here but text.

const LENGTH = 40;

/**
 * Letters that are taken for digits; there is no I, L, O or U in a code.
 * @type {Record<string, string>}
 */
const taken = { I: '1', L: '1', O: '0' };

/**
 * What stands behind # in an invitation's link: CODE, or CODE&name=Ada%27s%20phone.
 * @param {string} given a link, what stands behind its #, or a code
 * @returns {{code: string, name: string}} name is '' where there is none
 */
export function readInvitation(given) {
  const [code, ...rest] = given.slice(given.indexOf('#') + 1).split('&');
  const name = rest.find((part) => part.startsWith('name='))?.slice('name='.length) ?? '';
  return { code: decoded(code).trim(), name: decoded(name).trim() };
}

/** @param {string} part of a link, which may have been cut anywhere */
function decoded(part) {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

/**
 * What is wrong with a code that can be seen without the server, which counts tries.
 * @param {string} code
 * @returns {{length: number} | {sign: string} | undefined} undefined for what may be one
 */
export function slip(code) {
  const signs = Array.from(code.toUpperCase().replace(/[\s-]/g, ''), (sign) => taken[sign] ?? sign);
  const sign = signs.find((one) => !/[0-9A-HJKMNP-TV-Z]/.test(one));
  if (sign !== undefined) return { sign };
  return signs.length === LENGTH ? undefined : { length: signs.length };
}

/**
 * What kind of device this is, for a name to begin with.
 * @param {string} agent navigator.userAgent
 * @param {number} fingers navigator.maxTouchPoints: an iPad says that it is a Mac
 */
export function kindOfDevice(agent, fingers) {
  if (/iPhone/.test(agent)) return 'iphone';
  if (/iPad/.test(agent) || (/Macintosh/.test(agent) && fingers > 1)) return 'ipad';
  if (/Android/.test(agent)) return 'android';
  if (/Windows/.test(agent)) return 'windows';
  if (/Macintosh/.test(agent)) return 'mac';
  return /Linux|X11/.test(agent) ? 'linux' : 'other';
}
