/** Said by what only the whole core can do: whoever asked goes on with a worker that has it. */
export class NeedsWhole extends Error {}
