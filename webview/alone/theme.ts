const DARK = "(prefers-color-scheme: dark)";
const CONTRAST = ["(prefers-contrast: more)", "(forced-colors: active)"];

/** Gives the body the class that an editor would give it for its theme, by what the reader's system prefers, now and later. */
export function followTheme(body: HTMLElement): void {
  const queries = [DARK, ...CONTRAST].map((query) => window.matchMedia(query));
  const [dark, ...contrast] = queries;
  const apply = (): void => {
    const more = contrast.some(({ matches }) => matches);
    const names = more ? ["vscode-high-contrast-light", "vscode-high-contrast"] : ["vscode-light", "vscode-dark"];
    body.classList.remove("vscode-light", "vscode-dark", "vscode-high-contrast", "vscode-high-contrast-light");
    body.classList.add(names[dark.matches ? 1 : 0]);
  };
  for (const query of queries) query.addEventListener("change", apply);
  apply();
}
