import path from "node:path";
import ts from "typescript";
import { readProjectFile } from "./project-files.ts";

export interface ModuleImport {
  readonly specifier: string;
  /** Leaves no trace in the built program. */
  readonly typeOnly: boolean;
}

/** Every static and dynamic import and re-export of a module, in the order of the text. */
export function importsOf(file: string): ModuleImport[] {
  const source = ts.createSourceFile(file, readProjectFile(file), ts.ScriptTarget.ES2022, false);
  const found: ModuleImport[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) && ts.isStringLiteral(node.moduleSpecifier)) {
      found.push({ specifier: node.moduleSpecifier.text, typeOnly: node.importClause?.isTypeOnly === true });
    } else if (ts.isExportDeclaration(node) && node.moduleSpecifier && ts.isStringLiteral(node.moduleSpecifier)) {
      found.push({ specifier: node.moduleSpecifier.text, typeOnly: node.isTypeOnly });
    } else if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      const [argument] = node.arguments;
      if (argument && ts.isStringLiteral(argument)) found.push({ specifier: argument.text, typeOnly: false });
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

/** The project's file that a relative import names. */
export function targetOf(file: string, specifier: string): string {
  return path.posix.normalize(path.posix.join(path.posix.dirname(file), specifier));
}
