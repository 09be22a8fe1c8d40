// What the hosted editor is made of, pinned, and where it is kept.
import path from "node:path";
import { fileURLToPath } from "node:url";

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "../..");

/** Its newest release that runs on Node 20; it holds VS Code 1.100, the oldest that the extension supports. */
const CODE_SERVER = "4.100.3";
/** From this version on the search program comes inside a package for each platform, without a download of its own. */
const RIPGREP = "1.18.0";
/** The newest Node 20 that the registry has for every platform. */
const NODE = "20.18.1";
const NODE_MAJOR = 20;

const hostFolder = path.join(root, ".cache", "editor-host");
const packages = path.join(hostFolder, "node_modules");
const server = path.join(packages, "code-server", "lib", "vscode");
const serverPackages = path.join(server, "node_modules");
const ripgrepPackage = `@vscode/ripgrep-${process.platform}-${process.arch}`;
const nodePackage = nodePackageName();
const runningNodeFits = Number(process.versions.node.split(".")[0]) === NODE_MAJOR;

export const recipe = {
  folder: hostFolder,
  /** Packages with exact versions, installed side by side in `folder`. */
  dependencies: {
    "code-server": CODE_SERVER,
    [ripgrepPackage]: RIPGREP,
    ...(runningNodeFits ? {} : { [nodePackage]: NODE }),
  },
  /** Folder of the editor's server with its own package.json. */
  server,
  /** The Node that runs the server: this one when it is of the right major version. */
  node: runningNodeFits ? process.execPath : path.join(packages, nodePackage, "bin", executable("node")),
  ripgrep: path.join(packages, ...ripgrepPackage.split("/"), "bin", executable("rg")),
  ripgrepExpected: path.join(serverPackages, "@vscode", "ripgrep", "bin", executable("rg")),
  /** Small modules copied over the entries of packages that would have to be compiled. */
  standIns: [
    [standIn("spdlog.cjs"), path.join(serverPackages, "@vscode", "spdlog", "index.js")],
    [standIn("native-watchdog.cjs"), path.join(serverPackages, "native-watchdog", "index.js")],
  ],
  /** Raised when the preparation changes in a way that the versions don't show. */
  revision: 1,
  readyFile: path.join(hostFolder, "ready.json"),
};

function standIn(name) {
  return path.join(root, "scripts", "editor-host", "stand-ins", name);
}

function executable(name) {
  return process.platform === "win32" ? `${name}.exe` : name;
}

function nodePackageName() {
  const platform = process.platform === "win32" ? "win" : process.platform;
  const prefix = process.platform === "darwin" && process.arch === "arm64" ? "node-bin" : "node";
  return `${prefix}-${platform}-${process.arch}`;
}
