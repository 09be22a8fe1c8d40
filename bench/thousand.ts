import type { WorkspaceDocumentDiagnosticReport } from "vscode-languageserver-protocol";
import { startRobustServer } from "../test/robust/robust-server.ts";
import { CAMERA, moveText, RIG, SET } from "./documents.ts";
import { percentile, type Figure } from "./measure.ts";

const OPEN = "bench/0.move.yaml";

/** A workspace of many moves of 8 keys: how soon the open one has its diagnostics, and how long an edit waits while the rest is checked. */
export async function benchManyMoves(count: number): Promise<Figure[]> {
  const files = Object.fromEntries(
    Array.from({ length: count }, (_, idx) => [`bench/${idx}.move.yaml`, moveText(8, idx)] as const),
  );
  const kit = { "bench/seven.rig.yaml": RIG, "bench/a.camera.yaml": CAMERA, "bench/a.set.yaml": SET };
  const begun = performance.now();
  const server = await startRobustServer({ ...kit, ...files });
  try {
    const ready = performance.now() - begun;
    let text = files[OPEN];
    await server.open(OPEN, text);
    const reports: WorkspaceDocumentDiagnosticReport[] = [];
    const all = checkAll(server, reports);
    const findings = (await server.pull(OPEN)).length;
    const first = performance.now() - begun;
    const edits: number[] = [];
    const at = text.indexOf("\n", text.indexOf("lift: ", Math.floor(text.length / 2)));
    let isOver = false;
    void all.then(() => (isOver = true));
    while (!isOver && edits.length < 200) {
      const asked = performance.now();
      const isOdd = edits.length % 2 === 1;
      text = await server.change(OPEN, text, [{ from: at, to: at + (isOdd ? 1 : 0), piece: isOdd ? "" : "5" }]);
      await server.pull(OPEN);
      edits.push(performance.now() - asked);
    }
    await all;
    const checked = performance.now() - begun;
    const heap = await server.heap();
    return [
      {
        name: `${count} moves: start to the open one's diagnostics`,
        value: first,
        unit: "ms",
        target: "2000",
        facts: {
          starting: Math.round(ready),
          findings,
          "until all are checked, s": Number((checked / 1000).toFixed(1)),
        },
      },
      {
        name: `${count} moves: keystroke to diagnostics meanwhile, p95`,
        value: percentile(edits, 0.95),
        unit: "ms",
        facts: {
          p50: Number(percentile(edits, 0.5).toFixed(1)),
          edits: edits.length,
          "documents reported": reports.length,
          "MiB of heap": Math.round(heap / 2 ** 20),
        },
      },
    ];
  } finally {
    await server.stop();
  }
}

/** Asks for all documents that are not open; ends when the server has answered for each. */
async function checkAll(
  { connection }: Awaited<ReturnType<typeof startRobustServer>>,
  reports: WorkspaceDocumentDiagnosticReport[],
): Promise<void> {
  const report = await connection.sendRequest<{ items: readonly WorkspaceDocumentDiagnosticReport[] }>(
    "workspace/diagnostic",
    { previousResultIds: [] },
  );
  reports.push(...report.items);
}
