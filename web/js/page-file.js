/**
 * Where the page's other files lie: pictures, looks, the core. Scripts are bundled into one folder,
 * whatever folder they are written in, so this is the one place that knows the way from there.
 */

/**
 * @param {string} path from the page
 * @returns {URL}
 */
export const pageFile = (path) => new URL(`../${path}`, import.meta.url);
