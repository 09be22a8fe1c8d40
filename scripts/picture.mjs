// npm run picture: takes the README's picture again, by the test that drives a whole editor.
import path from "node:path";
import { fileURLToPath } from "node:url";
import { runCommand } from "./run-command.mjs";

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..");
const mocha = path.join(root, "node_modules", "mocha", "bin", "mocha.js");
const env = { ...process.env, UPDATE_PICTURES: "1" };
const { code } = await runCommand(process.execPath, [mocha, "test/editor/whole-editor.test.ts"], {
  cwd: root,
  env,
  show: true,
});
process.exitCode = code;
