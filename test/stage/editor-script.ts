/**
 * The editor's side of the page, run in it before anything else: its channel, its theme and, on request, a browser
 * without WebGL. Text, because what a test runner compiles would bring its own runtime along.
 */
export function editorScript(editor: {
  readonly kept: unknown;
  readonly css: readonly (readonly [string, string])[];
  readonly webgl: boolean;
}): string {
  return `{
    const editor = ${JSON.stringify(editor)};
    const channel = { sent: [], kept: editor.kept };
    window.editorChannel = channel;
    window.acquireVsCodeApi = () => ({
      postMessage: (message) => void channel.sent.push(structuredClone(message)),
      getState: () => channel.kept,
      setState: (state) => void (channel.kept = structuredClone(state)),
    });
    document.addEventListener("readystatechange", () => {
      for (const [name, value] of editor.css) document.documentElement.style.setProperty(name, value);
    });
    if (!editor.webgl) {
      const get = HTMLCanvasElement.prototype.getContext;
      HTMLCanvasElement.prototype.getContext = function (kind, ...rest) {
        return kind.startsWith("webgl") ? null : get.call(this, kind, ...rest);
      };
    }
  }`;
}
