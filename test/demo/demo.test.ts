import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parse } from "yaml";
import { runToEnd } from "../../core/base/task.ts";
import { analyse } from "../../core/checks/analyse.ts";
import type { Analysis } from "../../core/checks/analysis.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import type { Sources } from "../../core/model/sources.ts";
import type { MoveAxis, ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { Order, Trajectory } from "../../core/motion/trajectory.ts";

const EXAMPLES = fileURLToPath(new URL("../../examples", import.meta.url));
const LIMITS = ["speed", "accel", "jerk"] as const;

const sources: Sources = {
  read(file) {
    try {
      return { state: "text", text: readFileSync(file, "utf8") };
    } catch {
      return { state: "missing" };
    }
  },
};

const listed = (folder: string, ending: RegExp): string[] =>
  readdirSync(`${EXAMPLES}/${folder}`)
    .filter((name) => ending.test(name))
    .sort()
    .map((name) => `${EXAMPLES}/${folder}/${name}`);

const analysed = (file: string, from: Sources = sources): Analysis => runToEnd(analyse(file, from));
const findings = ({ textFindings, motionFindings }: Analysis): PlacedFinding[] => [...textFindings, ...motionFindings];

interface Share {
  readonly axis: MoveAxis;
  readonly limit: (typeof LIMITS)[number];
  readonly share: number;
}

/** Highest share of each limit of each axis that moves, highest first. */
function shares(trajectory: Trajectory): Share[] {
  const all = trajectory.axes.flatMap((axis, index) =>
    LIMITS.flatMap((limit, k): Share[] => {
      const most = axis.limits[limit];
      if (most === undefined) return [];
      const { low, high } = trajectory.extremes(index, (k + 1) as Order);
      return [{ axis, limit, share: Math.max(Math.abs(low.value), Math.abs(high.value)) / most }];
    }),
  );
  return all.sort((a, b) => b.share - a.share);
}

/** The sources with one limit of one axis halved in the text of its rig or set. */
function halvedText(move: string, { axis, limit }: Share): Sources {
  return {
    read(file) {
      const state = sources.read(file);
      if (state.state !== "text" || file === move) return state;
      const line = new RegExp(
        `((?:axis: ${axis.name}\\b|\\b${axis.name}:\\s*\\{?\\s*(?=at|limits))[^]*?limits: \\{[^}]*?${limit}: )([\\d.]+)`,
      );
      // Of limits a URDF file states the speed alone.
      if (file.endsWith(".urdf") && limit !== "speed") return state;
      const inUrdf = new RegExp(`(<joint name="${axis.name}"[^]*?velocity=")([\\d.]+)`);
      const wanted = file.endsWith(".urdf") ? inUrdf : line;
      return {
        state: "text",
        text: state.text.replace(wanted, (_, before: string, value: string) => `${before}${Number(value) / 2}`),
      };
    },
  };
}

describe("demo", () => {
  const moves = listed("moves", /\.move\.yaml$/);
  const solved = new Map(moves.map((file) => [file, analysed(file)]));

  it("has five moves or more, each of five keys or more", () => {
    assert.ok(5 <= moves.length);
    for (const file of moves) assert.ok(5 <= solved.get(file)!.move!.keys.length, file);
  });

  for (const file of [...moves, ...listed("kit", /\.yaml$/), ...listed(".", /\.(set|shoot)\.yaml$/)]) {
    it(`has no finding in ${file.slice(EXAMPLES.length + 1)}`, () => {
      const found = findings(solved.get(file) ?? analysed(file));
      assert.deepEqual(
        found.map((one) => `${one.code}: ${one.message}`),
        [],
      );
    });
  }

  for (const file of moves) {
    const name = file.slice(file.lastIndexOf("/") + 1);

    it(`uses between 60 and 98 % of a limit in ${name}, and not more of any`, () => {
      const [peak] = shares(solved.get(file)!.trajectory!);
      const said = `${peak.axis.name} ${peak.limit} ${(100 * peak.share).toFixed(1)} %`;
      assert.ok(0.6 <= peak.share && peak.share <= 0.98, said);
    });

    it(`fails in ${name} when a limit it leans on is halved`, () => {
      const { trajectory } = solved.get(file)!;
      for (const leaned of shares(trajectory!).filter(({ share }) => 0.55 <= share)) {
        const found = findings(analysed(file, halvedText(file, leaned)));
        const expected = `axis-${leaned.limit}`;
        assert.ok(
          found.some((one) => one.code === expected && one.axis === leaned.axis.name && one.severity === "error"),
          `${leaned.axis.name} ${leaned.limit}: ${found.map((one) => one.code).join()}`,
        );
      }
    });
  }

  it("has a day whose cut and whose battery fail once a framing or a battery is another", () => {
    const day = `${EXAMPLES}/teapots.shoot.yaml`;
    const changed = (ending: string, from: string, to: string): readonly string[] => {
      const text = (file: string): string => readFileSync(file, "utf8").replace(from, to);
      const other: Sources = {
        read: (file) => (file.endsWith(ending) ? { state: "text", text: text(file) } : sources.read(file)),
      };
      return analysed(day, other).motionFindings.map(({ code }) => code);
    };
    assert.deepEqual(changed("lid-then-cup.move.yaml", "framing: [0.38, 0.44]", "framing: [0.39, 0.44]"), ["match"]);
    assert.deepEqual(changed("floor.rig.yaml", "battery: 150 Wh", "battery: 30 Wh"), ["power"]);
  });

  it("moves every driven axis of the rigs that its moves use, and the turntable", () => {
    const moved = new Set<string>();
    const driven = new Set<string>();
    for (const { move, trajectory } of solved.values()) {
      move!.axes.forEach((axis, index) => {
        if (axis.role !== "driven" && axis.role !== "turntable") return;
        const id = axis.role === "turntable" ? axis.name : `${move!.rig.name}: ${axis.name}`;
        driven.add(id);
        const { low, high } = trajectory!.extremes(index, 0);
        if (1e-3 < high.value - low.value) moved.add(id);
      });
    }
    assert.deepEqual(
      [...driven].filter((id) => !moved.has(id)),
      [],
    );
    assert.ok(17 <= driven.size, [...driven].join(", "));
  });

  it("uses all three lenses of the camera, all four rigs, one of them from a URDF file, and every feature that it says", () => {
    const all = [...solved.values()].map(({ move }) => move!);
    assert.equal(new Set(all.map((move) => move.optics.lensName)).size, 3);
    assert.equal(new Set(all.map((move) => move.rig.name)).size, 4);
    const some = (test: (move: ResolvedMove) => boolean): void => assert.ok(all.some(test));
    some((move) => move.keys.some((key) => key.camera));
    some(
      (move) => new Set(move.keys.flatMap((key) => (key.aim?.kind === "target" ? [key.aim.target] : []))).size === 3,
    );
    some((move) => move.keys.some((key) => key.zoom && key.roll));
    some((move) => move.rig.joints.some((joint) => joint.role === "follows") && move.base.lean[0] !== 0);
    some(({ rig }) => rig.bodies.some(({ solid, only }) => solid.shape === "mesh" && only === "looks"));
    some((move) => move.targets.some((target) => target.follow) && 0 < move.people.length);
    some(({ keys }) =>
      (["hold", "ease", "switch", "speed"] as const).every((field) => keys.some((key) => key[field] !== undefined)),
    );
  });
});

describe("broken demo documents", () => {
  const files = listed("broken", /\.yaml$/);
  for (const file of files) {
    const name = file.slice(file.lastIndexOf("/") + 1).replace(".yaml", "");
    it(`have one finding, the one that the first line names, in YAML and JSON: ${name}`, () => {
      const text = readFileSync(file, "utf8");
      const code = /^# ([a-z-]+): /.exec(text)?.[1];
      const json = file.replace(/yaml$/, "json");
      assert.deepEqual(parse(text), JSON.parse(readFileSync(json, "utf8")), "the JSON file holds the same document");
      for (const one of [file, json]) {
        const found = findings(analysed(one));
        assert.deepEqual(
          found.map((finding) => finding.code),
          [code],
          found.map((finding) => finding.message).join("\n"),
        );
        assert.ok(found[0].place.file === one && found[0].place.span.start < found[0].place.span.end);
      }
      const [a, b] = [file, json].map((one) => findings(analysed(one))[0]);
      assert.deepEqual([a.value, a.limit, a.unit, a.axis, a.time], [b.value, b.limit, b.unit, b.axis, b.time]);
    });
  }

  it("show findings of every family", () => {
    const codes = new Set(files.map((file) => /^# ([a-z-]+): /.exec(readFileSync(file, "utf8"))?.[1]));
    for (const code of [
      "axis-speed",
      "axis-accel",
      "axis-jerk",
      "axis-range",
      "out-of-reach",
      "out-of-frame",
      "aim-spin",
      "focus-near",
      "focus-speed",
      "soft-subject",
      "match",
      "judder",
      "blur",
      "crop-margin",
      "power",
      "allow",
    ]) {
      assert.ok(codes.has(code), code);
    }
    assert.ok(20 <= codes.size, `${codes.size}`);
    assert.equal(listed("broken", /\.json$/).length, files.length);
  });
});
