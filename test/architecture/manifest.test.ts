import assert from "node:assert/strict";
import { existsSync } from "node:fs";
import path from "node:path";
import { bundles } from "../../scripts/bundles.mjs";
import { findSuites } from "../../scripts/testing/suites.mjs";
import { projectFiles, readProjectFile, root } from "./project-files.ts";

const manifest = JSON.parse(readProjectFile("package.json"));

describe("package.json", () => {
  it("names bundles that the build makes", () => {
    const made = bundles.map(({ out }) => out);
    const named = [manifest.main, manifest.browser, ...Object.values<string>(manifest.bin)];
    for (const file of named) assert.ok(made.includes(String(file).replace(/^\.\//, "")), `${file} is not built`);
  });

  it("names files that exist", () => {
    const { grammars = [], jsonValidation = [] } = manifest.contributes;
    const named: string[] = [
      manifest.icon,
      ...grammars.map(({ path: file }: { path: string }) => file),
      ...jsonValidation.map(({ url }: { url: string }) => url),
    ];
    for (const file of named) assert.ok(existsSync(path.join(root, file)), `${file} is not there`);
  });

  it("has exact versions only, and runs in the oldest editor that the tests use", () => {
    const versions = { ...manifest.dependencies, ...manifest.devDependencies };
    for (const [name, version] of Object.entries<string>(versions))
      assert.match(version, /^\d+\.\d+\.\d+(-[\w.]+)?$/, name);
    assert.equal(manifest.engines.vscode, "^1.100.0");
  });

  it("has scripts whose files exist", () => {
    for (const [name, command] of Object.entries<string>(manifest.scripts)) {
      const file = command.match(/\b(?:scripts|bench)\/\S+/)?.[0];
      if (file !== undefined) assert.ok(existsSync(path.join(root, file)), `${name}: ${file} is not there`);
    }
  });
});

/** Facts of the editor that conditions may ask for, beside our own; see the editor's reference of `when` clauses. */
const EDITOR_CONTEXTS = [
  "activeWebviewPanelId",
  "editorFocus",
  "editorTextFocus",
  "editorReadonly",
  "explorerResourceIsFolder",
  "gitOpenRepositoryCount",
  "processExecutionSupported",
  "resourceFilename",
  "resourceScheme",
  "shellExecutionSupported",
  "view",
  "workspaceFolderCount",
];
/** Commands of the editor that our walkthrough leads to. */
const EDITOR_COMMANDS = ["workbench.actions.view.problems"];

describe("what package.json contributes", () => {
  const { contributes } = manifest;
  const sources = projectFiles(".ts")
    .filter((file) => (file.startsWith("client/") || file.startsWith("protocol/")) && !file.endsWith(".test.ts"))
    .map(readProjectFile)
    .join("\n");
  const constants = new Map(
    [...sources.matchAll(/const ([A-Z_]+) = "([\w.]+)"/g)].map(([, name, value]) => [name, value] as const),
  );
  /** Names handed to a function, as they stand in quotes or by their constants. */
  const named = (call: string): string[] =>
    [...sources.matchAll(new RegExp(`${call}\\(\\s*(?:"([\\w.]+)"|([A-Z_]+))`, "g"))].map(([, quoted, constant]) => {
      const value = quoted ?? constants.get(constant);
      assert.ok(value, `${constant} is no name of a command or a fact`);
      return value;
    });
  const commands: string[] = contributes.commands.map(({ command }: { command: string }) => command);
  const facts = [...sources.matchAll(/"setContext",\s*(?:"([\w.]+)"|([A-Z_]+))/g)].map(
    ([, quoted, constant]) => quoted ?? constants.get(constant),
  );
  const menus = Object.entries<{ command: string; when?: string }[]>(contributes.menus);

  /** Names in a condition: what is left of it without regular expressions, texts and numbers. */
  const contextsIn = (when: string): string[] =>
    (
      when
        .replace(/=~ \/(?:\\.|[^/])*\/[a-z]*/g, "")
        .replace(/'[^']*'/g, "")
        .match(/[A-Za-z][\w.]*/g) ?? []
    ).filter((name) => name !== "true" && name !== "false");

  it("are the commands that are registered, each once", () => {
    assert.deepEqual(named("registerCommand").sort(), [...commands].sort());
    assert.equal(new Set(commands).size, commands.length);
  });

  it("are commands with a title and the category, which the palette shows", () => {
    for (const { command, title, category } of contributes.commands) {
      assert.match(title, /^[A-Z]/, command);
      assert.ok(!title.includes("Movewright"), `${command}: the category says whose it is`);
      assert.equal(category, "Movewright", command);
    }
  });

  it("are menus whose commands exist", () => {
    for (const [menu, entries] of menus)
      for (const { command } of entries) assert.ok(commands.includes(command), `${menu}: ${command}`);
  });

  it("are conditions on facts that the editor or the extension states", () => {
    const conditions = [
      ...menus.flatMap(([, entries]) => entries.map(({ when }) => when)),
      ...contributes.commands.map(({ enablement }: { enablement?: string }) => enablement),
      ...(contributes.keybindings ?? []).map(({ when }: { when?: string }) => when),
      ...contributes.taskDefinitions.map(({ when }: { when?: string }) => when),
      ...Object.values<{ when?: string }[]>(contributes.views).flatMap((views) => views.map(({ when }) => when)),
      ...contributes.viewsWelcome.map(({ when }: { when?: string }) => when),
    ].filter((when) => when !== undefined);
    assert.ok(conditions.length > 0);
    for (const when of conditions)
      for (const name of contextsIn(when))
        assert.ok(EDITOR_CONTEXTS.includes(name) || facts.includes(name), `${name} in "${when}" is no known fact`);
  });

  it("is a sample whose files are those that the extension copies", () => {
    const list = /SAMPLE_FILES = \[([^\]]*)\]/.exec(sources)?.[1] ?? "";
    const copied = [...list.matchAll(/"([^"]+)"/g)].map(([, file]) => `media/sample/${file}`);
    assert.deepEqual(
      copied,
      projectFiles("").filter((file) => file.startsWith("media/sample/")),
    );
  });

  it("is a walkthrough of steps whose media, links and events exist", () => {
    assert.ok(contributes.walkthroughs.length > 0);
    for (const { steps } of contributes.walkthroughs) {
      for (const { id, description, media, completionEvents } of steps) {
        const file = media.markdown ?? media.image ?? media.svg;
        assert.ok(existsSync(path.join(root, file)), `${id}: ${file} is not there`);
        if (media.markdown === undefined) assert.ok(media.altText, `${id}: its picture has no words`);
        const links = [...description.matchAll(/\[[^\]]+\]\(command:([\w.]+)\)/g)].map(([, command]) => command);
        for (const link of links)
          assert.ok(commands.includes(link) || EDITOR_COMMANDS.includes(link), `${id} leads to ${link}`);
        assert.ok(completionEvents.length > 0, `${id} is never done`);
        for (const event of completionEvents) {
          const [, kind, name] = /^(onCommand|onContext):(.+)$/.exec(event) ?? [];
          const known: readonly (string | undefined)[] = kind === "onCommand" ? commands : kind ? facts : [];
          assert.ok(known.includes(name), `${id} waits for ${event}, which never happens`);
        }
      }
    }
  });
});

describe("the test run", () => {
  it("reaches every test file", () => {
    const specs = findSuites(root).map(({ spec }) => spec.replace("**/*.test.ts", ""));
    const outside = projectFiles(".test.ts").filter((file) => !specs.some((spec) => file.startsWith(spec)));
    assert.deepEqual(outside, []);
  });
});

describe("links in the documents", () => {
  for (const file of projectFiles(".md")) {
    it(`of ${file} lead somewhere`, () => {
      const links = readProjectFile(file).matchAll(/\]\((?!https?:|#)(?:<([^>]+)>|([^)#\s]+))/g);
      const targets = [...links].map(([, bracketed, plain]) => bracketed ?? plain);
      const missing = targets.filter((target) => !existsSync(path.join(root, path.dirname(file), target)));
      assert.deepEqual(missing, []);
    });
  }
});
