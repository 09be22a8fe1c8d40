import { createServer } from "node:net";

/** A port of 127.0.0.1 that nothing listens on: the preferred one when it is free, else any. */
export async function freePort(preferred = 0) {
  try {
    return await tryPort(preferred);
  } catch (error) {
    if (preferred === 0 || error.code !== "EADDRINUSE") throw error;
    return tryPort(0);
  }
}

function tryPort(port) {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once("error", reject);
    probe.listen(port, "127.0.0.1", () => {
      const found = probe.address().port;
      probe.close(() => resolve(found));
    });
  });
}
