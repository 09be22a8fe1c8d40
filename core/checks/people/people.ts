import type { Task } from "../../base/task.ts";
import type { Check } from "../check.ts";
import type { Finding } from "../finding.ts";
import { keptBodies } from "../space/kept-bodies.ts";
import { peopleFast } from "./people-fast.ts";
import { peopleNear } from "./people-near.ts";
import { peopleSpace } from "./people-space.ts";

/** `people`: nobody of the set in what the rig sweeps or nearer than the clearance, and nothing fast beside anybody. */
export const people: Check = {
  code: "people",
  *run(context): Task<readonly Finding[]> {
    const around = peopleSpace(context.move, keptBodies(context));
    if (!around) return [];
    return [...(yield* peopleNear(context, around)), ...(yield* peopleFast(context, around))];
  },
};
