/** A message of JSON-RPC as a raw client sees it. */
export interface Message {
  readonly jsonrpc: "2.0";
  readonly id?: number | string;
  readonly method?: string;
  readonly params?: unknown;
  readonly result?: unknown;
  readonly error?: { readonly code: number; readonly message: string };
}

/** A message with the header that the protocol's base asks for. */
export function framed(text: string): string {
  return `Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`;
}

/**
 * Gives each message in a stream of bytes to `receive`, as text.
 *
 * @returns Takes the next bytes; throws when they are anything but messages.
 */
export function frameReader(receive: (text: string) => void): (data: Buffer) => void {
  let held = Buffer.alloc(0);
  return (data) => {
    held = Buffer.concat([held, data]);
    for (;;) {
      const end = held.indexOf("\r\n\r\n");
      const header = held.subarray(0, end < 0 ? undefined : end).toString("latin1");
      if (!"Content-Length: ".startsWith(header.slice(0, 16))) throw new Error(`No header: ${header.slice(0, 200)}`);
      if (end < 0) return;
      const size = Number(header.match(/^Content-Length: (\d+)$/)?.[1]);
      if (!Number.isInteger(size)) throw new Error(`No length: ${header}`);
      if (held.length < end + 4 + size) return;
      const text = held.subarray(end + 4, end + 4 + size).toString("utf8");
      held = held.subarray(end + 4 + size);
      receive(text);
    }
  };
}
