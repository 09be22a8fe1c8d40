/** Work of one kind on many inputs. Settings, inputs and outputs are plain data: they go from thread to thread. */
export interface Job<Setting, Input, Output> {
  /** Called once in each thread, so that what many inputs share is kept from one to the next. */
  open(setting: Setting): OpenJob<Input, Output>;
  /** The answer for an input on which the program failed, or the thread ended. What it throws ends the whole run. */
  failed(input: Input, error: unknown): Output;
}

/** A job in one thread. No output may hang on which inputs came before. */
export interface OpenJob<Input, Output> {
  work(input: Input): Output | Promise<Output>;
  /** The output that an earlier run left, if it still holds. Asked before anything is worked on, in the first thread. */
  known?(input: Input): Output | undefined;
}

/** Jobs by their names: what a thread of the program can be asked for. */
export type JobTable = Readonly<Record<string, Job<never, never, unknown>>>;

/** A job whose types are those of its setting, inputs and outputs, for code that handles any. */
export type AnyJob = Job<unknown, unknown, unknown>;
