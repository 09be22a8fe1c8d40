/** [m/s] How fast somebody walks up, and [m] how far a stretched arm reaches: ISO 13855, for zones on the floor. */
const WALKING = 1.6;
export const ARM_REACH = 0.85;

/**
 * The distance of ISO 13855 for a zone on the floor, S = K T + C with the arm's reach for C: who is farther away when the
 * machine is stopped does not get to it before it rests.
 *
 * @param stop T, overall time until rest [s], 0 or more.
 * @returns S [m].
 */
export const separationDistance = (stop: number): number => WALKING * stop + ARM_REACH;
