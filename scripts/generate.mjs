// Writes what is generated from the tables: JSON Schemas, the reference pages, and the settings in package.json. With `--check` it writes nothing and
// fails when a file is stale.
import { mkdir, readFile, writeFile } from "node:fs/promises";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { format, resolveConfig } from "prettier";
import { register } from "tsx/esm/api";

// From here on Node reads TypeScript.
register();
const { generatedFiles } = await import("../core/schema/generated-files.ts");
const { renderFindingsPage } = await import("../core/checks/findings-page.ts");
const { renderMethodsPage } = await import("../server/methods-page.ts");
const { packageSettings, renderSettingsPage } = await import("../server/settings/settings-page.ts");

const root = path.dirname(path.dirname(fileURLToPath(import.meta.url)));
const manifest = JSON.parse(await readFile(path.join(root, "package.json"), "utf8"));
manifest.contributes.configuration.properties = packageSettings();

const files = {
  ...generatedFiles(),
  "docs/reference/findings.md": renderFindingsPage(),
  "docs/reference/features.md": renderMethodsPage(),
  "docs/reference/settings.md": renderSettingsPage(),
  "package.json": `${JSON.stringify(manifest, undefined, 2)}\n`,
};
const checking = process.argv.includes("--check");
let stale = 0;
for (const [name, content] of Object.entries(files)) {
  const file = path.join(root, name);
  const options = await resolveConfig(file);
  const text = await format(content, { ...options, filepath: file });
  const now = await readFile(file, "utf8").catch(() => undefined);
  if (now === text) continue;
  stale += 1;
  if (checking) {
    console.error(`${name} is stale: run npm run generate`);
    continue;
  }
  await mkdir(path.dirname(file), { recursive: true });
  await writeFile(file, text);
  console.log(`wrote ${name}`);
}
process.exit(checking && stale > 0 ? 1 : 0);
