import type { OriginId } from "../base/origin-id.ts";
import type { Vec2, Vec3 } from "../base/vec3.ts";
import type { LensMotor } from "./lens-motor.ts";

/** Brown-Conrady coefficients in OpenCV's order, dimensionless, on normalised image coordinates. */
export interface Distortion {
  readonly k1: number;
  readonly k2: number;
  readonly p1: number;
  readonly p2: number;
  readonly k3: number;
}

/**
 * The entrance pupil over focal length and focus, on a full grid. Focus counts as one over its distance: lens and image
 * travel go with that, infinity is 0, and rows near close focus do not crowd. Read with `pupilAt`.
 */
export interface PupilTable {
  /** [m], ascending. A single one: the pupil does not hang on the focal length. */
  readonly focal: readonly number[];
  /** [1/m], ascending. A single one: the pupil does not hang on focus. */
  readonly near: readonly number[];
  /** By focal length, then by nearness: the pupil [m], its slopes along both and its mixed one. Shape (f, n, 4). */
  readonly nodes: readonly number[];
}

/** A body and the lens on it, as the move uses them. Lengths in metres. */
export interface ResolvedOptics {
  readonly cameraName: string;
  readonly lensName: string;
  /** Area recorded as `resolution` [m]. */
  readonly sensor: Vec2;
  /** Captured pixels, across and down. */
  readonly resolution: readonly [number, number];
  readonly resolutionOrigin?: OriginId;
  /** Sensor plane behind the mount flange [m]. */
  readonly flange: number;
  readonly bodyMass: number;
  readonly lensMass: number;
  /** Centres of mass from the flange's centre, in the camera's directions [m]. */
  readonly bodyMassAt: Vec3;
  readonly lensMassAt: Vec3;
  /** Where the camera states the masses; 0 for the defaults. */
  readonly bodyMassOrigin?: OriginId;
  readonly lensMassOrigin?: OriginId;
  /** Circle of confusion [m]. */
  readonly coc: number;
  /** Where the text states it; 0 where it is the default. */
  readonly cocOrigin?: OriginId;
  /** Shortest and longest focal length [m]; equal for a prime. */
  readonly focal: { readonly low: number; readonly high: number };
  /** Entrance pupil in front of the flange. */
  readonly pupil: PupilTable;
  /** Widest f-number the text states; a key's `iris` may close it. */
  readonly iris: number;
  /** From the sensor plane [m]. */
  readonly closeFocus: number;
  readonly closeFocusOrigin: OriginId;
  /** Horizontal squeeze of the lens; 1 for a spherical lens. */
  readonly squeeze: number;
  readonly distortion?: Distortion;
  /** Those of the lens's motors whose scale is known. */
  readonly motors?: readonly LensMotor[];
  /** Principal point off the centre, shares of the picture's width and height. */
  readonly centre: Vec2;
  readonly front?: { readonly length: number; readonly diameter: number };
  readonly attachments: readonly {
    readonly name: string;
    readonly box: Vec3;
    readonly at: Vec3;
    readonly mass: number;
    readonly massOrigin?: OriginId;
  }[];
  /** Shutter angle [rad]. */
  readonly shutter: number;
  /** Where the camera states it; 0 for the default. */
  readonly shutterOrigin?: OriginId;
  readonly origin: OriginId;
}
