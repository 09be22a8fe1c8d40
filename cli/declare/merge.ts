import type { Command } from "commander";
import { DOCUMENT_KINDS } from "../../core/model/document-kind.ts";
import type { MergeOptions } from "../commands/merge.ts";
import { MERGE_DRIVER } from "../merge-hint.ts";
import type { Answer } from "./answer.ts";

const attributes = DOCUMENT_KINDS.map((kind) =>
  kind === "config" ? "  movewright.config.yaml merge=movewright" : `  *.${kind}.yaml merge=movewright`,
).join("\n");

const SET_UP = `
git calls it by itself once it is set up. In .gitattributes, and the same for .yml and .json where you use them:
${attributes}
In each clone, once:
  git config merge.movewright.name "camera moves by keys"
  git config merge.movewright.driver "${MERGE_DRIVER}"`;

export function declareMerge(program: Command, answer: Answer): void {
  program
    .command("merge")
    .description(
      "merge two changes of a document by keys and fields, as a merge driver of git; exit code 0 when merged, 1 when conflicts are left, 2 when it could not run and OURS is as it was",
    )
    .usage("[options] <base> <ours> <theirs>")
    .argument("[files...]", "the common ancestor, our side, to which the result is written, and their side")
    .option("--path <path>", "the document's own name, which says its kind (%P)")
    .option("--marker-size <n>", "how long the marks of conflicts are (%L)", "7")
    .option("--ours-label <text>", "what stands at the marks of our side (%X)")
    .option("--theirs-label <text>", "what stands at the marks of their side (%Y)")
    .option("--print", "print the result, and write nothing")
    .addHelpText("after", SET_UP)
    .action(async (files: string[], options: MergeOptions) => {
      const { mergeCommand } = await import("../commands/merge.ts");
      answer(mergeCommand(files, options));
    });
}
