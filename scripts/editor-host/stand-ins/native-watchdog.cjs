// Stands in for the hosted editor's compiled watchdog: ends this process when the one that started it has gone.
const INTERVAL_MS = 2000;

exports.start = (pid) => {
  const timer = setInterval(() => {
    try {
      process.kill(pid, 0);
    } catch {
      process.exit(55);
    }
  }, INTERVAL_MS);
  timer.unref();
};

exports.exit = (code) => process.exit(code || 0);
