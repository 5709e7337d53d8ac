import { folderOf } from "../../core/path";
import { defaultLimits } from "../../core/limits";
import { createSessionLoader } from "../../core/session-loader";
import { readSession } from "../../core/session/read-session";
import { readYaml } from "../../core/yaml-text";
import type { SessionView } from "../../server/language/session-view";
import { memoryFiles } from "./memory-files";

/** The view of a session file `s/one.session.yaml` with this text, and with these exports beside it. */
export async function sessionView(text: string, exports: Readonly<Record<string, string>> = {}): Promise<SessionView> {
  const path = "s/one.session.yaml";
  const files = Object.fromEntries(Object.entries(exports).map(([name, content]) => [`${folderOf(path)}/${name}`, content]));
  const port = memoryFiles({ ...files, [path]: text });
  const loaded = await createSessionLoader(port, defaultLimits).load(path);
  return {
    path,
    text,
    session: readSession(text).value,
    tree: readYaml(text).value,
    exports: loaded.exports,
    shots: loaded.table,
    listFolder: async (folder) => (await port.list(folder)) ?? [],
  };
}

/** An export with headers that need quotes, and one that nothing maps. */
export const oddExport = [
  'No,Club,"Path [°]",Carry (yd),Ball speed,"Side, right +",Bay',
  "1,Wren,1.5,150.0,112.0,-3.0,2",
  "2,Heron,-0.5,158.0,116.0,1.0,2",
  "3,Plover,0.5,155.0,114.0,2.0,2",
  "",
].join("\n");
