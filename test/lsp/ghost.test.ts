import assert from "node:assert/strict";
import { pathToFileURL } from "node:url";
import { compareTakes } from "../../core/compare/compare-takes.ts";
import { runToEnd } from "../../core/base/task.ts";
import type { ComparedMove } from "../../core/compare/compared-move.ts";
import { unpackTake } from "../../protocol/codec.ts";
import type { TakeResult } from "../../protocol/requests.ts";
import type {
  GhostParams,
  GhostResult,
  MoveFilesResult,
  ReadRevisionParams,
  ReadRevisionResult,
} from "../../protocol/stage-ghost.ts";
import type { StageTake } from "../../protocol/stage.ts";
import { MOVE, RIG, SET, WORKSPACE } from "./documents.ts";
import { codes, startServer, type Client } from "./harness.ts";

const PATH = "moves/along.move.yaml";
const OLD = "1".repeat(40);
const BROKEN = "2".repeat(40);
const BEFORE = "3".repeat(40);
const APART = "4".repeat(40);

/** What the repository has at each revision, in place of what stands now; `null`: not there. */
const REVISIONS: Readonly<Record<string, Readonly<Record<string, string | null>>>> = {
  // The rig stood 0.1 m lower, and the set's lid 0.05 m to the left.
  [OLD]: {
    "kit/slider.rig.yaml": RIG.replace("[0, 0, 0.9]", "[0, 0, 0.8]"),
    "moves/table.set.yaml": SET.replace("[2, 0, 1]", "[2, 0.05, 1]"),
  },
  [BROKEN]: { [PATH]: MOVE.replace("../kit/slider.rig", "../kit/lost.rig") },
  [BEFORE]: { [PATH]: null },
  [APART]: {},
};

const compared = ({ axes, targets, duration, optics, deliver, samples }: StageTake): ComparedMove => ({
  take: unpackTake(samples),
  duration,
  axes,
  targets,
  picture: { resolution: optics.resolution, deliver },
});

describe("a move as a revision has it", () => {
  let client: Client;
  let read: ReadRevisionParams[] = [];
  const nameOf = (uri: string): string => uri.slice(pathToFileURL(client.folder).toString().length + 1);
  before(async () => {
    client = await startServer(WORKSPACE);
    client.connection.onRequest("movewright/readRevision", (params: ReadRevisionParams): ReadRevisionResult => {
      read.push(params);
      const files = REVISIONS[params.revision];
      if (files === undefined) throw new Error("The repository is locked.");
      const name = nameOf(params.uri);
      if (params.revision === APART && name.startsWith("kit/")) return { state: "elsewhere" };
      const text = name in files ? files[name] : WORKSPACE[name];
      return text === null || text === undefined ? { state: "missing" } : { state: "text", text };
    });
    await client.open(PATH, MOVE, 1);
  });
  after(async () => assert.equal(await client.stop(), 0));
  beforeEach(() => (read = []));

  const ask = (revision: string, label = revision.slice(0, 7)) => {
    const params: GhostParams = { uri: client.uri(PATH), revision, label };
    return client.connection.sendRequest<GhostResult>("movewright/ghost", params);
  };
  const takeNow = async (): Promise<StageTake> => {
    const answer = await client.connection.sendRequest<TakeResult>("movewright/take", { uri: client.uri(PATH) });
    assert.ok("take" in answer);
    return answer.take;
  };

  it("is solved from all its documents at that revision", async () => {
    const ghost = await ask(OLD);
    assert.ok("take" in ghost, JSON.stringify(ghost));
    assert.deepEqual(ghost.notes, []);
    assert.deepEqual(ghost.take.findings, []);
    assert.deepEqual(ghost.take.targets[0].at, [2, 0.05, 1]);
    const files = new Set(read.map(({ uri }) => nameOf(uri)).filter((name) => !name.endsWith("config.yaml")));
    assert.deepEqual([...files].sort(), ["kit/a.camera.yaml", "kit/slider.rig.yaml", PATH, "moves/table.set.yaml"]);
    assert.ok(read.every(({ of, revision }) => of === client.uri(PATH) && revision === OLD));
    const found = runToEnd(compareTakes(compared(await takeNow()), compared(ghost.take), "time"));
    // 0.1 m higher; the head turns the pupil, which stands 102 mm before the pan axis, by up to 1.7 degrees of pan and
    // 2.9 of tilt: 6 mm.
    assert.ok(Math.abs(found.pupil.value - 0.1) < 0.007, `${found.pupil.value}`);
    // Both keep the lid where the framing wants it.
    assert.ok((found.targets.find(({ name }) => name === "lid")?.shift?.value ?? NaN) < 0.01);
  });

  it("is not read and solved again while it is compared with, and is once it was dropped", async () => {
    const first = await ask(OLD);
    assert.deepEqual(read, []);
    await client.connection.sendNotification("movewright/ghostDropped");
    assert.deepEqual(await ask(OLD), first);
    assert.ok(read.length > 0);
  });

  it("stays what it is when the text changes, and publishes nothing", async () => {
    const before = await ask(OLD);
    await client.change(PATH, MOVE.replace("at: 4 s", "at: 1.5 s"), 2);
    const items = await client.pullUntil(PATH, (found) => codes(found).includes("axis-speed"));
    assert.ok(items.every(({ message }) => !message.includes("lost.rig")));
    assert.deepEqual(await ask(OLD), before);
    await client.change(PATH, MOVE, 3);
    await ask(BROKEN);
    assert.deepEqual(codes(await client.pullUntil(PATH, (found) => !codes(found).includes("axis-speed"))), []);
    assert.deepEqual(client.published, []);
  });

  it("says why there is none, in one message each", async () => {
    const problemOf = (answer: GhostResult): string => ("problem" in answer ? answer.problem : "");
    assert.match(problemOf(await ask(BROKEN)), /^At 2222222: The move can't be solved yet\. .*lost\.rig\.yaml/);
    assert.equal(
      problemOf(await ask(BEFORE, "HEAD~9 (3333333)")),
      "along.move.yaml is not there at HEAD~9 (3333333). It was made, moved or renamed later. Choose a later revision, or compare with another move.",
    );
    assert.match(problemOf(await ask("5".repeat(40))), /^The files of 5555555 can't be read\. .*The repository is locked\./);
    // It is asked again, not told from memory.
    read = [];
    await ask("5".repeat(40));
    assert.ok(read.length > 0);
  }); // prettier-ignore

  it("takes files of other repositories as they are now, and says so", async () => {
    const ghost = await ask(APART);
    assert.ok("take" in ghost, JSON.stringify(ghost));
    assert.deepEqual([...ghost.notes].sort(), [
      "a.camera.yaml is not in the repository of the move: it is taken as it is now.",
      "slider.rig.yaml is not in the repository of the move: it is taken as it is now.",
    ]);
  });

  it("reads nothing outside of the open folders, whatever the text of a revision names", async () => {
    const outside = "6".repeat(40);
    Object.assign(REVISIONS, { [outside]: { [PATH]: MOVE.replace("../kit/slider", "../../../secret/slider") } });
    const ghost = await ask(outside);
    assert.ok("problem" in ghost);
    assert.ok(read.length > 0 && read.every(({ uri }) => uri.startsWith(pathToFileURL(client.folder).toString())));
  });

  it("names the files that a move is made of", async () => {
    const { uris } = await client.connection.sendRequest<MoveFilesResult>("movewright/moveFiles", {
      uri: client.uri(PATH),
    });
    assert.equal(uris[0], client.uri(PATH));
    for (const name of ["kit/slider.rig.yaml", "kit/a.camera.yaml", "moves/table.set.yaml"]) {
      assert.ok(uris.includes(client.uri(name)), name);
    }
  });
});
