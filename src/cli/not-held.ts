/** A check that did not hold: an answer, printed already, and no fault of anybody. */
export class NotHeld extends Error {}
