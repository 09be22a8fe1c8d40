import js from "@eslint/js";
import prettier from "eslint-config-prettier";
import path from "node:path";
import tseslint from "typescript-eslint";
import { importProblem } from "./scripts/import-edges.mjs";

/** Reports an import that the table of allowed edges doesn't list. */
const importDirection = {
  create(context) {
    const file = path
      .relative(import.meta.dirname, context.filename)
      .split(path.sep)
      .join("/");
    const check = (node, typeOnly) => {
      if (typeof node.source?.value !== "string") return;
      const message = importProblem(file, node.source.value, typeOnly);
      if (message !== undefined) context.report({ node, message });
    };
    return {
      ImportDeclaration: (node) => check(node, node.importKind === "type"),
      ExportAllDeclaration: (node) => check(node, node.exportKind === "type"),
      ExportNamedDeclaration: (node) => check(node, node.exportKind === "type"),
      ImportExpression: (node) => check(node, false),
    };
  },
};

const unsafeMarkup = [
  {
    selector: "AssignmentExpression[left.property.name=/^(innerHTML|outerHTML|srcdoc)$/]",
    message: "Build elements instead: text of a document must never be read as markup.",
  },
  {
    selector:
      "CallExpression[callee.property.name=/^(insertAdjacentHTML|write|writeln)$/][callee.object.name!='process']",
    message: "Build elements instead: text of a document must never be read as markup.",
  },
];
const noNetwork = ["fetch", "XMLHttpRequest", "WebSocket", "EventSource", "eval", "Function"].map((name) => ({
  name,
  message: "The product runs no text as code and opens no connection.",
}));

export default tseslint.config(
  { ignores: ["dist/", "node_modules/", ".cache/", "out/"] },
  js.configs.recommended,
  prettier,
  {
    files: ["**/*.ts"],
    extends: [tseslint.configs.recommended],
    plugins: { movewright: { rules: { "import-direction": importDirection } } },
    languageOptions: { parserOptions: { project: "./tsconfig.lint.json", tsconfigRootDir: import.meta.dirname } },
    rules: {
      "movewright/import-direction": "error",
      "no-undef": "off", // The compiler checks it, folder by folder.
      eqeqeq: "error",
      "no-eval": "error",
      "no-implied-eval": "error",
      "no-new-func": "error",
      "@typescript-eslint/await-thenable": "error",
      "@typescript-eslint/consistent-type-imports": "error",
      "@typescript-eslint/no-explicit-any": "error",
      "@typescript-eslint/no-floating-promises": "error",
      "@typescript-eslint/no-misused-promises": "error",
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_" }],
      "@typescript-eslint/switch-exhaustiveness-check": ["error", { considerDefaultExhaustiveForUnions: true }],
    },
  },
  {
    files: ["core/**/*.ts", "server/**/*.ts", "protocol/**/*.ts", "client/**/*.ts", "webview/**/*.ts"],
    ignores: ["**/*.test.ts"],
    rules: {
      "no-restricted-globals": ["error", ...noNetwork],
      "no-restricted-imports": ["error", { paths: ["child_process", "node:child_process", "node:vm", "vm"] }],
      "no-restricted-syntax": ["error", ...unsafeMarkup],
    },
  },
  {
    files: ["core/**/*.ts"],
    ignores: ["**/*.test.ts"],
    rules: {
      // The same text must give the same findings, anywhere and at any time.
      "no-restricted-properties": [
        "error",
        { object: "Math", property: "random" },
        { object: "Date", property: "now" },
        { object: "performance", property: "now" },
      ],
      // Shared mutable state would let one analysis change another.
      "no-restricted-syntax": [
        "error",
        ...unsafeMarkup,
        { selector: "Program > VariableDeclaration[kind!='const']", message: "No module-level mutable state in core." },
        {
          selector: "Program > ExportNamedDeclaration > VariableDeclaration[kind!='const']",
          message: "No module-level mutable state in core.",
        },
      ],
    },
  },
  {
    files: ["**/*.test.ts", "test/**/*.ts"],
    rules: {
      // mocha's hooks and fast-check's predicates read better as expressions.
      "@typescript-eslint/no-unused-expressions": "off",
      "no-restricted-properties": [
        "error",
        ...["describe", "it", "context"].flatMap((object) =>
          ["skip", "only"].map((property) => ({ object, property })),
        ),
      ],
    },
  },
  {
    files: ["**/*.mjs", "**/*.cjs", "**/*.js"],
    languageOptions: {
      globals: Object.fromEntries(
        ["process", "console", "setTimeout", "clearTimeout", "setInterval", "clearInterval", "fetch", "URL"]
          .concat(["URLSearchParams", "AbortSignal", "Buffer", "require", "exports", "module", "performance"])
          .map((name) => [name, "readonly"]),
      ),
    },
  },
);
