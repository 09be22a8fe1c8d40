import assert from "node:assert/strict";
import { fork, spawn, spawnSync, type ChildProcess } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createServer, type AddressInfo, type Socket } from "node:net";
import { tmpdir } from "node:os";
import path from "node:path";
import type { Message } from "../test/support/frames.ts";
import { installProgram } from "../test/support/installed-program.ts";
import { rawClient, type RawClient } from "../test/support/raw-client.ts";

const RIG = "rig: 1\nname: Slider\nchain:\n  - { axis: slide, type: linear, along: [0, 1, 0], range: [0.6, -0.6] }\n";

interface Initialized {
  readonly serverInfo: { readonly name: string };
  readonly capabilities: Readonly<Record<string, unknown>>;
}

describe("movewright serve", () => {
  const folder = mkdtempSync(path.join(tmpdir(), "movewright-serve-"));
  const started: ChildProcess[] = [];
  let program: string;
  before(async () => (program = await installProgram(folder)));
  after(() => {
    for (const child of started) child.kill("SIGKILL");
    rmSync(folder, { recursive: true, force: true });
  });

  const start = (...args: string[]) => {
    const child = spawn(process.execPath, [program, "serve", ...args], { stdio: ["pipe", "pipe", "pipe"] });
    started.push(child);
    let complaints = "";
    child.stderr.on("data", (data: Buffer) => (complaints += data.toString()));
    return { child, ended: endOf(child), complaints: () => complaints };
  };
  const endOf = (child: ChildProcess) => new Promise<number | null>((resolve) => child.on("exit", resolve));
  const introduce = async (client: RawClient) => {
    const answer = await client.ask<Initialized>("initialize", { processId: null, rootUri: null, capabilities: {} });
    assert.equal(answer.serverInfo.name, "Movewright");
    client.tell("initialized", {});
  };
  /** A client that waits for the server at `at`. */
  const waitAt = async (at: string | number) => {
    let met: (socket: Socket) => void;
    const meeting = new Promise<Socket>((resolve) => (met = resolve));
    const listener = createServer((socket) => met(socket));
    await new Promise<void>((resolve) => {
      if (typeof at === "string") listener.listen(at, resolve);
      else listener.listen(at, "127.0.0.1", resolve);
    });
    return { port: (listener.address() as AddressInfo).port, meeting, stop: () => listener.close() };
  };

  it("serves over standard input and output, which carry nothing else, and ends when told", async () => {
    const { child, ended, complaints } = start("--stdio");
    const client = rawClient(child.stdout, child.stdin);
    await introduce(client);
    const uri = "file:///studio/slider.rig.yaml";
    client.tell("textDocument/didOpen", { textDocument: { uri, languageId: "yaml", version: 1, text: RIG } });
    const { diagnostics } = await client.told<{ diagnostics: { code: string }[] }>(
      "textDocument/publishDiagnostics",
      (params) => params.diagnostics.length > 0,
    );
    assert.deepEqual(
      diagnostics.map(({ code }) => code),
      ["bad-number"],
    );
    assert.equal(await client.ask("shutdown"), null);
    client.tell("exit");
    assert.equal(await ended, 0);
    assert.equal(complaints(), "");
    assert.ok(client.came.every(({ jsonrpc }) => jsonrpc === "2.0"));
  });

  it("ends with a client that closes its end without a word", async () => {
    const { child, ended } = start("--stdio");
    await introduce(rawClient(child.stdout, child.stdin));
    child.stdin.end();
    assert.equal(await ended, 1);
  });

  it("ends with a client that is killed", async () => {
    const script =
      'const { spawn } = require("node:child_process");' +
      `const server = spawn(process.execPath, [${JSON.stringify(program)}, "serve", "--stdio"]);` +
      'process.stdin.pipe(server.stdin); server.stdout.pipe(process.stdout); process.stderr.write(String(server.pid) + "\\n");';
    const editor = spawn(process.execPath, ["-e", script], { stdio: ["pipe", "pipe", "pipe"] });
    started.push(editor);
    const pid = await new Promise<number>((resolve) => editor.stderr.once("data", (data) => resolve(Number(data))));
    await introduce(rawClient(editor.stdout, editor.stdin));
    assert.ok(isAlive(pid));
    editor.kill("SIGKILL");
    for (const deadline = Date.now() + 10_000; isAlive(pid) && Date.now() < deadline;) await pause(50);
    assert.equal(isAlive(pid), false, "the server lives on without its client");
  });

  it("ends with the process that its arguments name, though its input stays open", async () => {
    const editor = spawn(process.execPath, ["-e", "setInterval(() => undefined, 1000)"]);
    started.push(editor);
    const { child, ended } = start("--stdio", "--clientProcessId", String(editor.pid));
    await introduce(rawClient(child.stdout, child.stdin));
    editor.kill("SIGKILL");
    assert.equal(await ended, 1);
  });

  it("serves over a pipe and a socket at which a client waits, and ends with it", async () => {
    const pipe = process.platform === "win32" ? `\\\\.\\pipe\\movewright-${process.pid}` : path.join(folder, "socket");
    for (const at of [pipe, 0]) {
      const { port, meeting, stop } = await waitAt(at);
      const { ended } = start(...(at === pipe ? ["--pipe", pipe] : [`--socket=${port}`]));
      const socket = await meeting;
      await introduce(rawClient(socket, socket));
      socket.destroy();
      assert.equal(await ended, 1);
      stop();
    }
  });

  it("serves over the channel of a Node program, and ends with it", async () => {
    const child = fork(program, ["serve", "--node-ipc"], { silent: true });
    started.push(child);
    const ended = endOf(child);
    const answered = new Promise<Message>((resolve) => child.on("message", (message: Message) => resolve(message)));
    const params = { processId: null, rootUri: null, capabilities: {} };
    child.send({ jsonrpc: "2.0", id: 1, method: "initialize", params });
    assert.equal(((await answered).result as Initialized).serverInfo.name, "Movewright");
    child.disconnect();
    assert.equal(await ended, 1);
  });

  it("says in one line why it could not run", async () => {
    const { port, stop } = await waitAt(0);
    stop();
    const cases: [string[], RegExp][] = [
      [[], /give one of --stdio, --pipe, --socket and --node-ipc/],
      [["--stdio", "--node-ipc"], /give one of/],
      [["--socket", "80808"], /from 1 to 65535/],
      [["--socket", String(port)], /the client can't be reached/],
      [["--pipe", path.join(folder, "nobody")], /the client can't be reached/],
      [["--node-ipc"], /for a Node program that starts this one/],
      [["--studio"], /unknown option '--studio'/],
    ];
    for (const [args, message] of cases) {
      const { status, stdout, stderr } = run("serve", ...args);
      assert.equal(status, 2, args.join(" "));
      assert.equal(stdout, "", args.join(" "));
      assert.match(stderr, message);
      assert.equal(stderr.trimEnd().split("\n").length, 1, stderr);
    }
  });

  it("lists its ways in its help", () => {
    const { status, stdout } = run("serve", "--help");
    assert.equal(status, 0);
    for (const way of ["--stdio", "--pipe <name>", "--socket <port>", "--node-ipc"]) assert.ok(stdout.includes(way));
    assert.match(run("--help").stdout, /^ +serve/m);
  });

  const run = (...args: string[]) => spawnSync(process.execPath, [program, ...args], { encoding: "utf8" });
});

function isAlive(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch {
    // No such process.
    return false;
  }
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
