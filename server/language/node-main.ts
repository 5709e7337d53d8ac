import { createConnection, ProposedFeatures } from "vscode-languageserver/node";
import { serveLanguage } from "./language-server";
import { createProfileProcess } from "./profile-process";

// The bundle that this is a part of has the worker too.
const { profile } = createProfileProcess(__filename);
serveLanguage(createConnection(ProposedFeatures.all), profile);
