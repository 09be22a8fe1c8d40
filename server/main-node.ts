import { serveOnNode } from "./node-server.ts";

serveOnNode();
