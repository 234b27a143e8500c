// What the core's call "water" is asked.

/**
 * What a salinity as read means.
 * @param {any} read value, instrument, scale and sampleC
 */
export const meaningRequest = (read) => ({ do: 'salinity', reading: read });

/**
 * How much of a total ammonia is the form that poisons; undefined where something is missing.
 * @param {Record<string, any>} fields of a reading
 * @param {number} [salinity] another, where the reading has none
 */
export function ammoniaRequest(fields, salinity) {
  const { ammoniaMgNL, pH, temperatureC } = fields;
  if (ammoniaMgNL === undefined || !pH || temperatureC === undefined || (!fields.salinity && salinity === undefined)) return undefined;
  return { do: 'ammonia', ammoniaMgNL, pH, temperatureC, ...(fields.salinity ? { reading: fields.salinity } : { salinity }) };
}
