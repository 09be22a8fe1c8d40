// Shows what takes time: one line when a step starts, a sign of life while it runs, its seconds when it ends.

const LIFE_SIGN_MS = 10_000;

/**
 * Runs `work` as a named step and prints its progress on standard error.
 *
 * @template T
 * @param {string} name What is done, in the form "Building the extension".
 * @param {() => T | Promise<T>} work
 * @returns {Promise<T>} What `work` returned; what it throws passes through.
 */
export async function step(name, work) {
  const start = Date.now();
  const seconds = () => `${((Date.now() - start) / 1000).toFixed(1)} s`;
  process.stderr.write(`${name} …\n`);
  const lifeSign = setInterval(() => process.stderr.write(`  still at it: ${name} (${seconds()})\n`), LIFE_SIGN_MS);
  try {
    const result = await work();
    process.stderr.write(`  done in ${seconds()}\n`);
    return result;
  } finally {
    clearInterval(lifeSign);
  }
}
