// Lenses for tests.
import fc from "fast-check";
import { pupilTable } from "../../core/lens/pupil-table.ts";
import type { PupilTable, ResolvedOptics } from "../../core/lens/resolved-optics.ts";

export const part = (size: number): fc.Arbitrary<number> => fc.double({ min: -size, max: size, noNaN: true });

export const fixedPupil = (at: number): PupilTable => pupilTable([{ focal: 0.035, at }]);

export function optics(more: Partial<ResolvedOptics>): ResolvedOptics {
  return {
    cameraName: "test camera",
    lensName: "test lens",
    sensor: [0.036, 0.02025],
    resolution: [6144, 3456],
    flange: 0.044,
    bodyMass: 1.9,
    lensMass: 0.7,
    bodyMassAt: [-0.044, 0, 0],
    lensMassAt: [0.055, 0, 0],
    coc: 3e-5,
    focal: { low: 0.035, high: 0.035 },
    pupil: fixedPupil(0.052),
    iris: 2.8,
    closeFocus: 0.28,
    closeFocusOrigin: 0,
    squeeze: 1,
    centre: [0, 0],
    attachments: [],
    shutter: Math.PI,
    origin: 0,
    ...more,
  };
}

/** Lenses from 18 to 100 mm, spherical and squeezed, plain and distorted by a few per cent at the corner. */
export const anyOptics: fc.Arbitrary<ResolvedOptics> = fc
  .record({
    focal: fc.double({ min: 0.018, max: 0.1, noNaN: true }),
    squeeze: fc.constantFrom(1, 1.33, 2),
    centre: fc.tuple(part(0.02), part(0.02)),
    pupil: fc.double({ min: 0, max: 0.15, noNaN: true }),
    distortion: fc.option(
      fc.record({ k1: part(0.12), k2: part(0.05), p1: part(0.004), p2: part(0.004), k3: part(0.02) }),
      { nil: undefined },
    ),
  })
  .map(({ focal, pupil, ...rest }) =>
    optics({ ...rest, focal: { low: focal, high: focal }, pupil: fixedPupil(pupil) }),
  );
