/**
 * Stands for the text that a value came from. The resolved move carries these instead of places, so that a comment or a
 * blank line moves places and leaves the resolved move deep-equal. 0 is "nowhere".
 */
export type OriginId = number;

export const NO_ORIGIN: OriginId = 0;
