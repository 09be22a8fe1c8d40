import assert from "node:assert/strict";
import { importProblem, partOf } from "../../scripts/import-edges.mjs";
import { importsOf, targetOf } from "./module-imports.ts";
import { projectFiles } from "./project-files.ts";

describe("imports", () => {
  const modules = projectFiles(".ts").filter((file) => partOf(file) !== undefined);

  it("follow the table of allowed edges", () => {
    const problems = modules.flatMap((file) =>
      importsOf(file).flatMap(({ specifier, typeOnly }) => {
        const problem = importProblem(file, specifier, typeOnly);
        return problem === undefined ? [] : [`${file}: ${problem}`];
      }),
    );
    assert.deepEqual(problems, []);
  });

  it("are checked for every folder that holds code", () => {
    const free = projectFiles(".ts").filter((file) => partOf(file) === undefined && !file.endsWith(".test.ts"));
    assert.deepEqual([...new Set(free.map((file) => file.split("/")[0]))].sort(), ["bench", "test"]);
    assert.ok(modules.length > 100, `only ${modules.length} modules were found`);
  });

  it("refuse what the table doesn't list", () => {
    assert.match(
      importProblem("core/rig/chain.ts", "../model/origin-table.ts", false) ?? "",
      /core\/rig may not import/,
    );
    assert.match(
      importProblem("core/motion/plan.ts", "../schema/fields.ts", true) ?? "",
      /may not import core\/schema/,
    );
    assert.match(importProblem("core/rig/chain.ts", "three", false) ?? "", /package "three"/);
    assert.match(importProblem("core/base/task.ts", "node:fs", false) ?? "", /package "node:fs"/);
    assert.match(
      importProblem("server/serve.ts", "../host/disk-sources.ts", false) ?? "",
      /server may not import host/,
    );
    assert.equal(importProblem("server/node-server.ts", "../host/disk-sources.ts", false), undefined);
    assert.match(importProblem("protocol/stage.ts", "../core/rig/chain.ts", false) ?? "", /protocol may not import/);
    assert.equal(importProblem("protocol/stage.ts", "../core/rig/resolved-rig.ts", true), undefined);
  });

  it("form no circle", () => {
    const edges = new Map(
      modules.map((file) => [
        file,
        importsOf(file)
          .filter(({ specifier, typeOnly }) => specifier.startsWith(".") && !typeOnly)
          .map(({ specifier }) => targetOf(file, specifier)),
      ]),
    );
    assert.equal(findCircle(edges)?.join(" -> "), undefined);
  });
});

/** A path that ends where it began, or undefined. */
function findCircle(edges: ReadonlyMap<string, readonly string[]>): string[] | undefined {
  const done = new Set<string>();
  const visit = (file: string, way: string[]): string[] | undefined => {
    if (way.includes(file)) return [...way.slice(way.indexOf(file)), file];
    if (done.has(file)) return undefined;
    for (const target of edges.get(file) ?? []) {
      const circle = visit(target, [...way, file]);
      if (circle) return circle;
    }
    done.add(file);
    return undefined;
  };
  for (const file of edges.keys()) {
    const circle = visit(file, []);
    if (circle) return circle;
  }
  return undefined;
}
