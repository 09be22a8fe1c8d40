import { SETTINGS, SETTINGS_SECTION, type SettingRow } from "../../protocol/settings.ts";
import { allowed } from "./settings.ts";

const ROWS: readonly [string, SettingRow][] = Object.entries(SETTINGS);

/** The reference page of settings as Markdown; written to `docs/reference/settings.md` by the generator. */
export function renderSettingsPage(): string {
  return [
    "# Settings",
    "",
    "<!-- Generated from protocol/settings.ts by `npm run generate`. Do not edit. -->",
    "",
    "A value that a setting can't have is not used, and a message says so; a name that is no setting gets a message too.",
    "",
    ...ROWS.flatMap(([name, row]) => [
      `## ${SETTINGS_SECTION}.${name}`,
      "",
      row.description,
      "",
      `- Allowed: ${allowed(row)}.`,
      `- Default: \`${row.default}\`.`,
      ...(row.type === "word" ? Object.entries(row.words).map(([word, does]) => `- \`${word}\`: ${does}`) : []),
      "",
    ]),
  ].join("\n");
}

/** What `package.json` says of the settings, for the editor to show and check them. */
export function packageSettings(): Readonly<Record<string, object>> {
  return Object.fromEntries(ROWS.map(([name, row]) => [`${SETTINGS_SECTION}.${name}`, packageSetting(row)]));
}

function packageSetting(row: SettingRow): object {
  const rest = { default: row.default, scope: "window", description: row.description };
  if (row.type === "boolean") return { type: "boolean", ...rest };
  if (row.type === "integer") return { type: "integer", minimum: row.least, maximum: row.most, ...rest };
  const words = { enum: Object.keys(row.words), enumDescriptions: Object.values(row.words) };
  return { type: "string", ...words, ...rest };
}
