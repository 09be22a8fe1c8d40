import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { data, Evaluator, Lexer, Parser } from "@actions/expressions";
import { parse } from "yaml";

export interface ActionStep {
  readonly id?: string;
  readonly name: string;
  readonly if?: string;
  readonly shell: string;
  readonly "working-directory"?: string;
  readonly env?: Readonly<Record<string, string>>;
  readonly run: string;
}

export interface Action {
  readonly inputs: Readonly<Record<string, { readonly default: string }>>;
  readonly outputs: Readonly<Record<string, { readonly value: string }>>;
  readonly runs: { readonly using: string; readonly steps: readonly ActionStep[] };
}

/** What a run of an action came to. */
export interface ActionRun {
  /** Exit code of the first step that failed, 0 where none did. */
  readonly status: number;
  readonly outputs: Readonly<Record<string, string>>;
  /** Of each step that was run, by its name: what it printed. */
  readonly logs: Readonly<Record<string, string>>;
  readonly summary: string;
}

type Context = { readonly [name: string]: string | Context };

export const readAction = (file: string): Action => parse(readFileSync(file, "utf8")) as Action;

/**
 * Runs the steps of a composite action as a runner does: `bash --noprofile --norc -eo pipefail FILE` for each, its outputs and
 * the summary from files, expressions evaluated by the code host's own library.
 */
export function runAction(
  action: Action,
  inputs: Readonly<Record<string, string>>,
  around: {
    readonly workspace: string;
    readonly folder: string;
    readonly env: NodeJS.ProcessEnv;
    readonly github?: Context;
  },
): ActionRun {
  const room = mkdtempSync(join(around.folder, "run-"));
  const temp = join(room, "temp dir");
  mkdirSync(temp);
  const summary = join(room, "summary.md");
  writeFileSync(summary, "Before.\n");
  const defaults = Object.fromEntries(Object.entries(action.inputs).map(([name, each]) => [name, each.default]));
  const steps: Record<string, Context> = {};
  const context = (): Context => ({ inputs: { ...defaults, ...inputs }, steps, github: around.github ?? {} });
  const logs: Record<string, string> = {};
  let status = 0;
  for (const [i, step] of action.runs.steps.entries()) {
    // Without a word of its own on the state, a step is left out once one has failed.
    if (status !== 0 || (step.if !== undefined && valueOf(step.if, context()) !== "true")) continue;
    const output = join(room, `output-${i}`);
    writeFileSync(output, "");
    const script = join(room, `step-${i}.sh`);
    writeFileSync(script, step.run);
    const env = Object.fromEntries(
      Object.entries(step.env ?? {}).map(([name, text]) => [name, valueOf(text, context())]),
    );
    const files = {
      GITHUB_OUTPUT: output,
      GITHUB_STEP_SUMMARY: summary,
      GITHUB_WORKSPACE: around.workspace,
      RUNNER_TEMP: temp,
    };
    const {
      status: code,
      stdout,
      stderr,
    } = spawnSync("bash", ["--noprofile", "--norc", "-eo", "pipefail", script], {
      cwd: join(around.workspace, valueOf(step["working-directory"] ?? ".", context())),
      env: { ...around.env, ...files, ...env },
      encoding: "utf8",
    });
    logs[step.name] = stdout + stderr;
    if (step.id !== undefined) steps[step.id] = { outputs: outputsIn(readFileSync(output, "utf8")) };
    status = code ?? 1;
  }
  const outputs = Object.entries(action.outputs).map(([name, { value }]) => [name, valueOf(value, context())]);
  return { status, outputs: Object.fromEntries(outputs), logs, summary: readFileSync(summary, "utf8") };
}

/** `NAME=VALUE` a line. */
function outputsIn(text: string): Record<string, string> {
  const lines = text.split("\n").filter((line) => line !== "");
  return Object.fromEntries(lines.map((line) => [line.slice(0, line.indexOf("=")), line.slice(line.indexOf("=") + 1)]));
}

/** A text with its expressions evaluated. */
function valueOf(text: string, context: Context): string {
  return text.replace(/\$\{\{(.*?)\}\}/gs, (_, written: string) => {
    const { tokens } = new Lexer(written.trim()).lex();
    const names = Object.keys(context);
    return new Evaluator(new Parser(tokens, names, []).parse(), dataOf(context)).evaluate().coerceString();
  });
}

function dataOf(context: Context): data.Dictionary {
  const pairs = Object.entries(context).map(([key, value]) => ({
    key,
    value: typeof value === "string" ? new data.StringData(value) : dataOf(value),
  }));
  return new data.Dictionary(...pairs);
}
