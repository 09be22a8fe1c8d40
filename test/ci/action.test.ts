import assert from "node:assert/strict";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { NoOperationTraceWriter, parseWorkflow } from "@actions/workflow-parser";
import { convertActionTemplate, parseAction } from "@actions/workflow-parser/actions/index";
import { parse } from "yaml";
import { root } from "../architecture/project-files.ts";
import { KIT } from "../fixtures/kit.ts";
import { testFolder, type TestFolder, type TestRepository } from "../support/repository.ts";
import { MOVE, shippedProgram } from "../support/shipped-program.ts";
import { readAction, runAction, type ActionRun } from "./local-runner.ts";

const LID = MOVE.replaceAll("kit/", "../kit/");
const FAST = LID.replace("at: 2 s", "at: 0.6 s");
const SLOWER = KIT["slider.rig.yaml"].replace("speed: 0.5", "speed: 0.2");

describe("the action", () => {
  const action = readAction(path.join(root, "action.yml"));
  const { main } = shippedProgram("action");
  let all: TestFolder;
  let made: TestRepository;
  before(() => {
    all = testFolder("action");
    made = all.repository("pottery");
    const kit = Object.entries(KIT).map(([name, text]) => [`kit/${name}`, text]);
    made.put({ ...Object.fromEntries(kit), "moves/lid.move.yaml": LID, "moves/fast.move.yaml": FAST });
    made.commit("one");
  });
  after(() => all.remove());
  afterEach(() => made.git("checkout", "--quiet", "--force", "HEAD"));

  const run = (inputs: Readonly<Record<string, string>>, github = {}): ActionRun => {
    const env = { ...all.env, XDG_CACHE_HOME: path.join(all.folder, "cache") };
    return runAction(action, { program: main, ...inputs }, { workspace: made.folder, folder: all.folder, env, github });
  };
  const annotations = ({ logs }: ActionRun): string[] =>
    (logs.Annotate ?? "").split("\n").filter((line) => line !== "");

  it("is taken by the code host's own reader, and has no expression within a script", () => {
    const file = { name: "action.yml", content: readFileSync(path.join(root, "action.yml"), "utf8") };
    const { context, value } = parseAction(file, new NoOperationTraceWriter());
    assert.deepEqual(context.errors.getErrors(), []);
    const read = convertActionTemplate(context, value!);
    assert.equal(read.runs.using, "composite");
    assert.equal(action.runs.steps.length, "steps" in read.runs ? read.runs.steps.length : 0);
    for (const step of action.runs.steps) {
      assert.equal(step.shell, "bash");
      assert.doesNotMatch(step.run, /\$\{\{/, step.name);
    }
    const used = JSON.stringify(action.runs.steps);
    for (const name of Object.keys(action.inputs)) assert.ok(used.includes(`inputs.${name} `), name);
  });

  it("passes what a base has too, annotates nothing, and leaves its answers in files", () => {
    const done = run({ paths: "moves\nkit\n", since: "HEAD" }, { server_url: "https://host.example", action_repository: "potter/movewright", action_ref: "v1" }); // prettier-ignore
    assert.equal(done.status, 0, JSON.stringify(done.logs));
    assert.equal(done.outputs["exit-code"], "0");
    assert.deepEqual(annotations(done), []);
    assert.match(done.summary, /^Before\.\n## Movewright: no findings\n[^]*compared with <code>HEAD<\/code>/);
    const log = JSON.parse(readFileSync(done.outputs.sarif, "utf8")) as {
      runs: { tool: { driver: { rules: { helpUri: string }[] } }; results: { baselineState: string }[] }[];
    };
    assert.ok(log.runs[0].results.every(({ baselineState }) => baselineState === "unchanged"));
    assert.match(log.runs[0].tool.driver.rules[0].helpUri, /^https:\/\/host\.example\/potter\/movewright\/blob\/v1\/docs\/reference\/findings\.md#/); // prettier-ignore
    assert.match(readFileSync(done.outputs.junit, "utf8"), /<testsuite id="1" /);
    assert.match(readFileSync(done.outputs.markdown, "utf8"), /^## Movewright/);
    assert.ok(!existsSync(path.join(made.folder, "movewright.sarif")));
  });

  it("fails with what is new, on the line that breaks it too, and names of files are no commands", () => {
    const odd = "::error file=x,line=1::owned.move.yaml";
    made.put({ "kit/slider.rig.yaml": SLOWER, [`moves/${odd}`]: FAST });
    const done = run({ since: "HEAD" });
    assert.equal(done.status, 1);
    assert.equal(done.outputs["exit-code"], "1");
    const [first, ...others] = annotations(done);
    assert.match(first, /^::error file=kit\/slider\.rig\.yaml,line=\d+,.*title=breaks-moves::.*this change breaks 1 move: moves\/lid\.move\.yaml/); // prettier-ignore
    assert.ok(others.length > 0 && others.length < 30);
    for (const line of others) assert.match(line, /^::(?:error|warning|notice) (?:file=moves\/|title=)[^:]*::[^]*$/);
    const lines = done.logs.Check.split("\n");
    const stop = lines.findIndex((line) => line.startsWith("::stop-commands::"));
    const go = lines.indexOf(`::${lines[stop].slice("::stop-commands::".length)}::`);
    assert.ok(0 <= stop && stop < go);
    const outside = [...lines.slice(0, stop), ...lines.slice(go + 1)].filter((line) => line.startsWith("::"));
    assert.deepEqual(outside, []);
    assert.match(done.summary, /breaks 1 move/);
    made.git("clean", "--quiet", "--force");
  });

  it("does as its other inputs say", () => {
    const quiet = run({ paths: "moves", annotations: "false", summary: "false" });
    assert.equal(quiet.status, 1);
    assert.deepEqual(annotations(quiet), []);
    assert.equal(quiet.summary, "Before.\n");
    const within = run({ paths: "lid.move.yaml", "working-directory": "moves", strict: "true", "max-warnings": "0" });
    assert.equal(within.status, 0, within.logs.Check);
    assert.match(run({ baseline: "none.json" }).logs.Check, /none\.json is not there/);
  });

  it("takes no input for a part of a script, and says so when it could not run", () => {
    const cases: readonly Readonly<Record<string, string>>[] = [
      { paths: "$(touch hacked); touch hacked" },
      { paths: "--write-baseline=hacked" },
      { paths: "moves", since: "`touch hacked`", baseline: '" ; touch hacked ; "' },
      { paths: "moves", "max-warnings": "$(touch hacked)", strict: "; touch hacked" },
    ];
    for (const inputs of cases) {
      const done = run(inputs);
      assert.equal(done.status, 2, JSON.stringify(inputs));
      assert.equal(done.outputs["exit-code"], "2");
      assert.equal(done.outputs.sarif, "");
      assert.match(done.logs.Check, /^::error title=Movewright::The check could not run/m);
      assert.deepEqual(annotations(done), []);
    }
    assert.deepEqual(readdirSync(made.folder).filter((name) => name.includes("hacked")), []); // prettier-ignore
  });

  it("is used by a sample workflow that the host's reader takes, with versions pinned and few rights", () => {
    const content = readFileSync(path.join(root, "examples/ci/check-moves.yml"), "utf8");
    const { context } = parseWorkflow({ name: "check-moves.yml", content }, new NoOperationTraceWriter());
    assert.deepEqual(context.errors.getErrors(), []);
    interface Workflow {
      readonly permissions: unknown;
      readonly jobs: { readonly check: { readonly permissions: unknown; readonly steps: readonly WorkflowStep[] } };
    }
    interface WorkflowStep {
      readonly uses: string;
      readonly with: Readonly<Record<string, unknown>>;
    }
    const workflow = parse(content) as Workflow;
    assert.deepEqual(workflow.permissions, { contents: "read" });
    const { steps, permissions } = workflow.jobs.check;
    assert.deepEqual(permissions, { contents: "read", "security-events": "write" });
    for (const { uses } of steps) assert.match(uses, /@v\d+\.\d+\.\d+$/);
    assert.equal(steps[0].with["fetch-depth"], 0);
    const own = steps.find(({ uses }) => uses.startsWith("OWNER/movewright@"));
    for (const name of Object.keys(own?.with ?? {})) assert.ok(name in action.inputs, name);
    const { version } = JSON.parse(readFileSync(path.join(root, "package.json"), "utf8")) as { version: string };
    assert.equal(own?.uses, `OWNER/movewright@v${version}`);
    for (const name of content.matchAll(/steps\.moves\.outputs\.([\w-]+)/g))
      assert.ok(name[1] in action.outputs, name[1]);
  });
});
