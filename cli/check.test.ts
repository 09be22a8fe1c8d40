import assert from "node:assert/strict";
import { chmodSync, mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { KIT } from "../test/fixtures/kit.ts";
import { json, MOVE, shippedProgram } from "../test/support/shipped-program.ts";

const FAST = MOVE.replace("at: 2 s", "at: 0.6 s");

describe("movewright check", () => {
  const { folder, put, run } = shippedProgram("check");

  interface CheckAnswer {
    version: number;
    files: { path: string; kind: string; findings: Record<string, unknown>[] }[];
  }

  it("answers a clean folder with exit code 0, every document once, paths as given", () => {
    const answer = run("check", "kit", "./good.move.yaml", "good.move.yaml", "--format", "json");
    assert.equal(answer.status, 0, answer.stdout + answer.stderr);
    const { version, files } = json<CheckAnswer>(answer);
    assert.equal(version, 1);
    assert.deepEqual(
      files.map(({ path, kind }) => [path, kind]),
      [
        ["kit/a.camera.yaml", "camera"],
        ["kit/crane.rig.yaml", "rig"],
        ["kit/slider.rig.yaml", "rig"],
        ["kit/table.set.yaml", "set"],
        ["kit/telescope.rig.yaml", "rig"],
        ["./good.move.yaml", "move"],
      ],
    );
  });

  it("answers an error with exit code 1, its place in UTF-16 and its figures", () => {
    put("fast/é.move.yaml", FAST.replaceAll("kit/", "../kit/").replace("title: Lid", "title: 🫖 Lid"));
    const answer = run("check", "fast", "--format", "json");
    assert.equal(answer.status, 1, answer.stderr);
    const [{ path, findings }] = json<CheckAnswer>(answer).files;
    assert.equal(path, "fast/é.move.yaml");
    const speed = findings.find((finding) => finding.code === "axis-speed" && finding.axis === "slide");
    assert.ok(speed);
    // 1.875 x 0.3 m in 0.6 s, the peak of a minimum-jerk segment, over the slider's 0.5 m/s.
    assert.ok(Math.abs((speed.value as number) - (1.875 * 0.3) / 0.6) < 1e-9);
    assert.deepEqual([speed.severity, speed.limit, speed.unit, speed.key], ["error", 0.5, "m/s", "key 2"]);
    const lines = readFileSync(join(folder(), "fast/é.move.yaml"), "utf8").split("\n");
    const line = lines.findIndex((text) => text.includes("slide: 0.1"));
    const character = lines[line].indexOf("0.1");
    const range = { start: { line, character }, end: { line, character: character + 3 } };
    assert.deepEqual(speed.range, range);
    const time = speed.time as { from: number; to: number };
    assert.ok(0 < time.from && time.from < 0.3 && 0.3 < time.to && time.to < 0.6);
  });

  it("prints one line a finding and a summary, without colours off a terminal", () => {
    const answer = run("check", "fast");
    assert.equal(answer.status, 1);
    const lines = answer.stdout.trimEnd().split("\n");
    for (const line of lines.slice(0, -1))
      assert.match(line, /^fast\/é\.move\.yaml:\d+:\d+: (error|warning|information) [a-z-]+ /);
    assert.match(lines[lines.length - 1], /^1 document checked: \d+ errors/);
    assert.ok(!answer.stdout.includes("\u001b"));
  });

  it("does not fail on what is allowed with a reason", () => {
    const allow = ["axis-speed", "axis-accel", "axis-jerk"].map((code) => `{ code: ${code}, reason: rehearsed }`);
    put("allowed.move.yaml", `${FAST}allow: [${allow.join(", ")}]\n`);
    const answer = run("check", "allowed.move.yaml", "--format", "json");
    assert.equal(answer.status, 0, answer.stdout);
    const [{ findings }] = json<CheckAnswer>(answer).files;
    assert.ok(
      findings.some(
        ({ code, allowed, severity }) => code === "axis-speed" && allowed === "rehearsed" && severity === "hint",
      ),
    );
  });

  it("fails with warnings too when it is to be strict", () => {
    const warned = MOVE.replace("title: Lid", "# allow blur: nothing smears here\ntitle: Lid");
    put("warned.move.yaml", warned);
    const relaxed = run("check", "warned.move.yaml", "--format", "json");
    const severities = json<CheckAnswer>(relaxed).files[0].findings.map(({ severity }) => severity);
    assert.ok(severities.includes("warning") && !severities.includes("error"), severities.join(", "));
    assert.equal(relaxed.status, 0);
    assert.equal(run("check", "--strict", "warned.move.yaml").status, 1);
    assert.equal(run("check", "--strict", "good.move.yaml").status, 0);
  });

  it("says in one line why it could not run, with exit code 2", () => {
    mkdirSync(join(folder(), "empty"), { recursive: true });
    put("notes.txt", "no document");
    const cases: [string[], RegExp][] = [
      [["check", "none.move.yaml"], /none\.move\.yaml is not there/],
      [["check", "notes.txt"], /notes\.txt is no document by its name/],
      [["check", "empty"], /empty holds no documents/],
      [["check", "--format", "xml"], /xml/],
      [["chekc"], /chekc/],
      [["solve", "kit/slider.rig.yaml"], /is a rig document; a move document is needed/],
      [["solve", "good.move.yaml", "--at", "99 s"], /outside the move/],
      [["solve", "good.move.yaml", "--pass", "blue"], /no pass blue; it has plain, tall/],
      [["pose", "kit/slider.rig.yaml", "--axes", "pam=3"], /no axis pam; it has slide, pan, tilt/],
      [["pose", "kit/slider.rig.yaml", "--axes", "slide=3 deg"], /slide/],
    ];
    for (const [args, message] of cases) {
      const answer = run(...args);
      assert.equal(answer.status, 2, args.join(" "));
      assert.equal(answer.stdout, "", args.join(" "));
      assert.match(answer.stderr, message);
      assert.equal(answer.stderr.trimEnd().split("\n").length, 1, answer.stderr);
    }
  });

  it("says that a file may not be read", function () {
    if (process.getuid?.() === 0) {
      // Root reads every file: then the file must simply be checked.
      put("locked.rig.yaml", KIT["slider.rig.yaml"]);
      chmodSync(join(folder(), "locked.rig.yaml"), 0);
      assert.equal(run("check", "locked.rig.yaml").status, 0);
      return;
    }
    put("locked.rig.yaml", KIT["slider.rig.yaml"]);
    chmodSync(join(folder(), "locked.rig.yaml"), 0);
    const answer = run("check", "locked.rig.yaml");
    assert.equal(answer.status, 2);
    assert.match(answer.stderr, /may not be read/);
  });

  it("prints its version and its help", () => {
    const { version } = JSON.parse(
      readFileSync(fileURLToPath(new URL("../package.json", import.meta.url)), "utf8"),
    ) as {
      version: string;
    };
    assert.equal(run("--version").stdout.trim(), version);
    const help = run("--help");
    assert.equal(help.status, 0);
    for (const command of ["check", "solve", "retime", "pose", "reach"])
      assert.match(help.stdout, new RegExp(`^ +${command}`, "m"));
  });

  it("takes findings as severe as the config of their folder says, and checks the config too", () => {
    const move = FAST.replaceAll("kit/", "../kit/");
    const config = (severity: string) =>
      `config: 1\nseverity: { axis-speed: ${severity}, axis-accel: off, axis-jerk: off, judder: off }\n`;
    const severities = () => {
      const answer = run("check", "lenient", "--format", "json");
      const { files } = json<CheckAnswer>(answer);
      assert.deepEqual(
        files.map(({ kind }) => kind),
        ["move", "config"],
      );
      const found = files.flatMap(({ findings }) =>
        findings.map(({ code, severity }) => `${String(code)} ${String(severity)}`),
      );
      return [answer.status, ...new Set(found)];
    };
    put("lenient/fast.move.yaml", move);
    put("lenient/movewright.config.yaml", config("warning"));
    assert.deepEqual(severities(), [0, "axis-speed warning"]);
    put("lenient/movewright.config.yaml", config("loud"));
    assert.deepEqual(severities(), [1, "axis-speed error", "wrong-type error"]);
  });

  it("checks a shoot with the moves that it names, and allows what it allows", () => {
    const day = (more: string): string => `shoot: 1
shots:
  - { name: lid, move: ../good.move.yaml, setup-time: 90 min }
  - { name: again, move: aside.move.yaml, setup-time: 90 min }
match:
  - { from: ../good.move.yaml#top, to: aside.move.yaml#top, about: lid }
${more}`;
    const power = "power: { battery: 50 Wh, usable: 80 %, idle: 20 W }\n";
    put("day/slider.rig.yaml", KIT["slider.rig.yaml"] + power);
    const aside = MOVE.replace("kit/slider", "slider")
      .replaceAll(" kit/", " ../kit/")
      .replace("0.5, 0.45", "0.52, 0.45");
    put("day/aside.move.yaml", aside);
    put("day/day.shoot.yaml", day(""));
    const check = (): readonly [number | null, string, readonly unknown[]] => {
      const answer = run("check", "day/day.shoot.yaml", "--format", "json");
      const [{ kind, findings }] = json<CheckAnswer>(answer).files;
      const told = findings.map(({ code, severity, value, limit, unit }) => [code, severity, value, limit, unit]);
      return [answer.status, kind, told];
    };
    // 0.02 of 6144 px; each of the two rigs has a battery of its own, and only one says so: 20 W for 1.5 h are 30 Wh.
    assert.deepEqual(check(), [0, "shoot", [["match", "warning", 122.88, 2, "px"]]]);
    put("day/slider.rig.yaml", KIT["slider.rig.yaml"] + power.replace("50 Wh", "30 Wh"));
    const [status, , [battery]] = check();
    assert.deepEqual([status, (battery as readonly unknown[]).slice(0, 2)], [1, ["power", "error"]]);
    put("day/day.shoot.yaml", day("allow: [{ code: power, reason: a spare one }, { code: match, reason: a jump }]\n"));
    assert.equal(check()[0], 0);
    const text = run("check", "day/day.shoot.yaml").stdout;
    assert.match(text, /^day\/day\.shoot\.yaml:6:\d+: .*match .*The cut from/m);
  });
});
