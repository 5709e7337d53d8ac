import { createConnection, NotebookDocuments, ProposedFeatures, TextDocuments } from "vscode-languageserver/node";
import { TextDocument } from "vscode-languageserver-textdocument";
import { serveLanguage } from "./language-server";

serveLanguage(createConnection(ProposedFeatures.all), {
  notebooks: new NotebookDocuments(TextDocument),
  texts: new TextDocuments(TextDocument),
});
