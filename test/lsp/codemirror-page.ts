// Runs in a page: CodeMirror with its own LSP client, which shares no code with ours. The test is the wire to the server.
import { LSPClient, languageServerExtensions } from "@codemirror/lsp-client";
import { EditorView } from "@codemirror/view";

declare global {
  interface Window {
    /** Given by the test. */
    toServer(message: string): Promise<void>;
    fromServer(message: string): void;
    /** Opens a document in an editor of its own; the client introduces itself at the first. */
    edit(uri: string, text: string): void;
    editor: EditorView;
    client: LSPClient;
  }
}

type Listener = (message: string) => void;
const listeners = new Set<Listener>();
window.fromServer = (message) => listeners.forEach((listener) => listener(message));

window.client = new LSPClient({ extensions: languageServerExtensions(), timeout: 20_000 });
window.client.connect({
  send: (message) => void window.toServer(message),
  subscribe: (listener) => listeners.add(listener),
  unsubscribe: (listener) => listeners.delete(listener),
});
window.edit = (uri, text) => {
  window.editor = new EditorView({ doc: text, parent: document.body, extensions: [window.client.plugin(uri, "yaml")] });
};
