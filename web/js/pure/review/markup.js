/** Text in markup. */

/** @param {string} text that may hold anything */
export const escaped = (text) => text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);
