import type { FilePort } from "../../core/file-port";
import { defaultLimits, editorExportBytes } from "../../core/limits";
import { profileOf, type ProfiledSession } from "../../core/profile-loader";
import { loadSession } from "../../core/session-loader";

/** Profiles the session file `path` and its exports, read through `files`. */
export type ProfileSession = (path: string, files: FilePort) => Promise<ProfiledSession>;

/** Profiles a session on this very thread; of an export above 16 MB the beginning is read. Nothing is remembered. */
export const profileHere: ProfileSession = async (path, files) => profileOf(await loadSession(path, files, { limits: defaultLimits, exportBytes: editorExportBytes }));
