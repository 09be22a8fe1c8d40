// Stands in for the hosted editor's compiled log writer: appends lines to a file, without rotation.
// The state of a hosted editor is small and short-lived, so a file that only grows does no harm.
const { appendFileSync, mkdirSync } = require("node:fs");
const path = require("node:path");

class Logger {
  #file;
  #level = 2;

  constructor(_loggerType, _name, file) {
    this.#file = file;
  }

  #write(level, name, message) {
    if (level >= this.#level) appendFileSync(this.#file, `${new Date().toISOString()} [${name}] ${message}\n`);
  }

  trace = (message) => this.#write(0, "trace", message);
  debug = (message) => this.#write(1, "debug", message);
  info = (message) => this.#write(2, "info", message);
  warn = (message) => this.#write(3, "warning", message);
  error = (message) => this.#write(4, "error", message);
  critical = (message) => this.#write(5, "critical", message);
  getLevel = () => this.#level;
  setLevel = (level) => {
    this.#level = level;
  };
  setPattern() {}
  clearFormatters() {}
  flush() {}
  drop() {}
}

async function createRotatingLogger(name, file) {
  mkdirSync(path.dirname(file), { recursive: true });
  return new Logger("rotating", name, file);
}

exports.version = 0;
exports.setLevel = () => {};
exports.setFlushOn = () => {};
exports.Logger = Logger;
exports.createRotatingLogger = createRotatingLogger;
exports.createAsyncRotatingLogger = createRotatingLogger;
