import assert from "node:assert/strict";
import { seededRandom } from "../base/random.ts";
import { runToEnd } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import type { Body } from "../rig/resolved-rig.ts";
import { randomMove } from "../../test/support/moves.ts";
import {
  body,
  bodyPose,
  planned,
  randomPose,
  randomSolid,
  sampledDistance,
  surfacePoints,
} from "../../test/support/spaces.ts";
import { approaches, leastApproach, type Approach } from "./approaches.ts";
import { courseOf } from "./course.ts";
import { bodiesOfMove } from "./moving-bodies.ts";
import { createPairs, createPairRoom, FLOOR, measurePair, type Pair } from "./pairs.ts";
import { createSearch, placeAt, type Search } from "./search.ts";
import { createSpace } from "./space.ts";

const BOUND = 0.05;

interface Scene {
  readonly move: ResolvedMove;
  readonly trajectory: Trajectory;
}

/** A random move whose links carry bodies, among obstacles beside the camera's way and one on the turntable. */
export function crowded(seed: number): Scene {
  const random = seededRandom(seed + 1000);
  const { move: bare } = randomMove(seed);
  const bodies = bare.rig.joints.map((_, link) =>
    body(`body ${link}`, link, randomSolid(random, 0.3), [0, 0, 0], { pose: randomPose(random, 0.1) }),
  );
  const rig = { ...bare.rig, bodies: [body("foot", -1, { shape: "box", size: [0.5, 0.4, 0.1] }), ...bodies] };
  const way = planned(bare);
  const instant = way.createInstant();
  const obstacles = Array.from({ length: 6 }, (_, idx): Body => {
    way.poseAt(random() * way.duration, instant);
    const off = randomPose(random, 0.6);
    const at = off.at.map((part, axis) => part + instant.position[axis]) as unknown as Vec3;
    if (idx === 0)
      return body("pot", -1, randomSolid(random, 0.2), [0, 0, 0], { table: 0, pose: randomPose(random, 0.3) });
    return body(`obstacle ${idx}`, -1, randomSolid(random, 0.4), at, { pose: { ...off, at } });
  });
  const move = { ...bare, rig, obstacles };
  return { move, trajectory: planned(move) };
}

/** The rig against each obstacle, one group each, then the rig against itself, then the floor. */
export function searchOf({ move, trajectory }: Scene): Search {
  const { rig, obstacles } = bodiesOfMove(move);
  const space = createSpace(move, [...rig, ...obstacles]);
  const list: Pair[] = [];
  for (let a = 0; a < rig.length; a++) {
    for (let b = 0; b < obstacles.length; b++) list.push({ a, b: rig.length + b, group: b });
    list.push({ a, b: FLOOR, group: obstacles.length });
    for (let b = a + 1; b < rig.length; b++) {
      if (rig[a].link + 1 < rig[b].link) list.push({ a, b, group: obstacles.length + 1 });
    }
  }
  return createSearch(space, createPairs(space, list, 0.02), courseOf(trajectory));
}

/** Of bodies that overlap, how deep is compared at a few instants only. */
const atMost = (distance: number): number => (distance < 0 ? 0 : distance + 1e-6);

const seeds = Array.from({ length: 12 }, (_, idx) => idx + 1);

describe("search of least distances over time", () => {
  let met = 0;
  for (const seed of seeds) {
    it(`misses nothing that dense sampling sees, move ${seed}`, () => {
      const scene = crowded(seed);
      const search = searchOf(scene);
      const found = runToEnd(approaches(search, BOUND));
      met += found.length;
      const { pairs, space } = search.look;
      const room = createPairRoom();
      const count = 600;
      const least = new Float64Array(pairs.groups).fill(Infinity);
      for (let i = 0; i <= count; i++) {
        const t = (scene.trajectory.duration * i) / count;
        const placed = placeAt(search, t, "right", 0);
        const now = new Float64Array(pairs.groups).fill(Infinity);
        for (let idx = 0; idx < pairs.count; idx++) {
          const distance = measurePair(space, pairs, idx, placed, room, BOUND);
          const group = pairs.group[idx];
          now[group] = Math.min(now[group], distance);
        }
        now.forEach((distance, group) => {
          least[group] = Math.min(least[group], distance);
          const inside = found.find((one) => one.group === group && one.from <= t && t <= one.to);
          if (distance < BOUND) assert.ok(inside, `group ${group} is at ${distance} at ${t}`);
          if (inside)
            assert.ok(inside.distance <= atMost(distance), `group ${group}: ${inside.distance}, ${distance} at ${t}`);
        });
      }
      for (const one of found) checkApproach(one, scene, search);
      const whole = runToEnd(leastApproach(search, 0, scene.trajectory.duration))!;
      const seen = Math.min(...least, ...found.map(({ distance }) => distance));
      assert.ok(whole.distance <= atMost(seen), `${whole.distance}, ${seen}`);
    });
  }

  it("has met obstacles, the floor and itself often enough to mean anything", () => {
    assert.ok(25 < met, `${met}`);
  });

  /** The distance that is told is that of the bodies by the points of their surfaces and closed forms. */
  function checkApproach(one: Approach, { move, trajectory }: Scene, { look }: Search): void {
    assert.ok(one.from <= one.t && one.t <= one.to);
    const apart = Math.hypot(...one.onA.map((part, axis) => part - one.onB[axis]));
    assert.ok(Math.abs(Math.abs(one.distance) - apart) < 1e-6, `${one.distance}, ${apart}`);
    const owner = (idx: number): Body | undefined =>
      [...move.rig.bodies, ...move.obstacles].find(({ name }) => name === look.space.bodies[idx]?.name);
    const [a, b] = [owner(one.a), owner(one.b)];
    if (!a || !b || one.distance < 0.001) return;
    const instant = trajectory.createInstant();
    trajectory.poseAt(one.t, instant);
    const [pa, pb] = [bodyPose(move, a, instant.value), bodyPose(move, b, instant.value)];
    const sampled = sampledDistance(pa, b.solid, pb, surfacePoints(a.solid, 24));
    assert.ok(one.distance <= sampled + 1e-9, `${one.distance} is more than ${sampled}`);
    assert.ok(sampled < one.distance + 0.02, `${one.distance} is much less than ${sampled}`);
  }
});

describe("search of a course whose rates have no bound, as where a path leads out of reach", () => {
  it("finds the same nearness as with bounds, to the time between its looks, and does not look for ever", () => {
    const scene = crowded(1);
    const search = searchOf(scene);
    const known = runToEnd(approaches(search, BOUND));
    let looks = 0;
    const course = {
      ...search.course,
      bound: () => Infinity,
      writeAt: (...given: Parameters<typeof search.course.writeAt>) => {
        looks++;
        search.course.writeAt(...given);
      },
    };
    const found = runToEnd(approaches({ ...search, course }, BOUND));
    const groups = (list: readonly Approach[]): number[] => [...new Set(list.map(({ group }) => group))];
    assert.ok(0 < known.length);
    assert.deepEqual(groups(found), groups(known));
    for (const one of known.filter(({ distance }) => 0 < distance)) {
      const nearest = Math.min(...found.filter(({ group }) => group === one.group).map(({ distance }) => distance));
      assert.ok(nearest < one.distance + 0.01, `${nearest}, ${one.distance}`);
    }
    assert.ok(looks < 2000 * scene.trajectory.duration, `${looks} looks in ${scene.trajectory.duration} s`);
  });
});
