import { programPackage } from "./program-package.ts";

/** The version that the package states which the running program belongs to. */
export function programVersion(script?: string): string {
  return programPackage(script)?.version ?? "unknown";
}
