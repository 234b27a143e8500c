// water: its pages under /tanks, by the second part of the path.

/** @type {Record<string, (props: {of: string[]}) => any>} */
export const waterPages = {};
