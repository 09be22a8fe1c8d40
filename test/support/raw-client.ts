import type { Readable, Writable } from "node:stream";
import { framed, frameReader, type Message } from "./frames.ts";

/** A client made by hand, so that each byte that the server writes is seen. */
export interface RawClient {
  ask<T>(method: string, params?: unknown): Promise<T>;
  tell(method: string, params?: unknown): void;
  /** The first notification or request of `method` for which `holds`, from the past or to come. */
  told<T>(method: string, holds?: (params: T) => boolean): Promise<T>;
  /** Everything that came, in order. */
  readonly came: readonly Message[];
}

/** Answers `null` to whatever the server asks. Each promise rejects after ten seconds, and when the stream ends. */
export function rawClient(from: Readable, to: Writable): RawClient {
  const came: Message[] = [];
  const waiting = new Set<() => void>();
  let fault: Error | undefined;
  const wake = () => [...waiting].forEach((look) => look());
  const fail = (error: Error) => {
    fault ??= error;
    wake();
  };
  const send = (message: Omit<Message, "jsonrpc">) => to.write(framed(JSON.stringify({ jsonrpc: "2.0", ...message })));
  const read = frameReader((text) => {
    const message = JSON.parse(text) as Message;
    came.push(message);
    if (message.method !== undefined && message.id !== undefined) send({ id: message.id, result: null });
    wake();
  });
  from.on("data", (data: Buffer) => {
    try {
      read(data);
    } catch (error) {
      fail(error as Error);
    }
  });
  from.on("end", () => fail(new Error("the server's stream ended")));
  to.on("error", fail);

  const first = (what: string, wanted: (message: Message) => boolean) =>
    new Promise<Message>((resolve, reject) => {
      const settle = (end: () => void) => {
        clearTimeout(timer);
        waiting.delete(look);
        end();
      };
      const look = () => {
        const found = came.find(wanted);
        if (found) settle(() => resolve(found));
        else if (fault) settle(() => reject(new Error(`${what}: ${fault?.message}`)));
      };
      const timer = setTimeout(() => settle(() => reject(new Error(`${what}: not within 30 s`))), 30_000);
      waiting.add(look);
      look();
    });
  let lastId = 0;
  return {
    came,
    async ask<T>(method: string, params?: unknown) {
      const id = (lastId += 1);
      send({ id, method, params });
      const { result, error } = await first(method, (message) => message.method === undefined && message.id === id);
      if (error) throw Object.assign(new Error(error.message), { code: error.code });
      return result as T;
    },
    tell: (method, params) => void send({ method, params }),
    async told<T>(method: string, holds: (params: T) => boolean = () => true) {
      const found = await first(method, (message) => message.method === method && holds(message.params as T));
      return found.params as T;
    },
  };
}
