/** How one test inside the extension host ended. */
export interface HostResult {
  readonly title: string;
  /** Present when it failed: the error with its stack. */
  readonly failure?: string;
}
