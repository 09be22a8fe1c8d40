/** What the stage's page needs from whoever shows it. Addresses are already safe to stand in an attribute. */
export interface StagePageParts {
  readonly scriptUri: string;
  readonly styleUri: string;
  /** Origin that the page may load its style from, as the editor names it. */
  readonly cspSource: string;
  /** Fresh for every page: 16 or more random characters of [A-Za-z0-9]. */
  readonly nonce: string;
}

/**
 * The stage's page: one style sheet, one script, no network, no inline script or style, no eval. The script builds the rest.
 */
export function stagePage(parts: StagePageParts): string {
  const policy = [
    "default-src 'none'",
    `style-src ${parts.cspSource}`,
    `script-src 'nonce-${parts.nonce}'`,
    "connect-src 'none'",
    "worker-src 'none'",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Stage</title>
<link rel="stylesheet" href="${parts.styleUri}">
</head>
<body>
<script nonce="${parts.nonce}" src="${parts.scriptUri}"></script>
</body>
</html>
`;
}
