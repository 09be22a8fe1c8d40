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
    for (const [name, version] of Object.entries<string>(versions)) assert.match(version, /^\d+\.\d+\.\d+$/, name);
    assert.equal(manifest.engines.vscode, "^1.100.0");
  });

  it("has scripts whose files exist", () => {
    for (const [name, command] of Object.entries<string>(manifest.scripts)) {
      const file = command.match(/\b(?:scripts|bench)\/\S+/)?.[0];
      if (file !== undefined) assert.ok(existsSync(path.join(root, file)), `${name}: ${file} is not there`);
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
      const targets = [...readProjectFile(file).matchAll(/\]\((?!https?:|#)([^)#\s]+)/g)].map((match) => match[1]);
      const missing = targets.filter((target) => !existsSync(path.join(root, path.dirname(file), target)));
      assert.deepEqual(missing, []);
    });
  }
});
