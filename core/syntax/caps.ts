/** Longest text that is read [UTF-16 units]: about 20,000 keys of a move. A longer one gives `too-large`. */
export const MAX_TEXT = 4_000_000;

/** Most tokens of one YAML text, which take more time than their length says. More give `too-large`. */
export const MAX_TOKENS = 1_500_000;

/** Deepest nesting of maps and lists. A document of ours needs 10. Deeper ones give `too-deep`. */
export const MAX_DEPTH = 64;

/** Most aliases (`*name`) in one text, and most nodes that they may stand for together. More give `too-many-aliases`. */
export const MAX_ALIASES = 1_000;
export const MAX_ALIASED_NODES = 100_000;

/** Most syntax findings of one text: the rest follows from the first ones as a rule. */
export const MAX_SYNTAX_PROBLEMS = 20;
