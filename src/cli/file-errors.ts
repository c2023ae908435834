import { UsageError } from "./io.ts";

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "does not exist",
  EISDIR: "is a folder",
  ENOTDIR: "is inside something that is not a folder",
  EACCES: "may not be opened (no permission)",
  EPERM: "may not be opened (no permission)",
  EBUSY: "is open in another program",
  EROFS: "is on a disk that cannot be written to",
  ENOSPC: "does not fit: the disk is full",
  EFBIG: "does not fit: files this large are not allowed there",
  EDQUOT: "does not fit: the space allowed is used up",
  EEXIST: "already exists",
  ENAMETOOLONG:
    "has too long a name: give it a shorter one, with room for the copies kept beside it",
  ELOOP: "is a link that leads back to itself",
};

/** A trouble the system reports with a file, as a sentence; any other error as it is. */
export function asUsage(error: unknown, path: string): Error {
  if (!(error instanceof Error)) return new Error(String(error));
  if (!isSystemError(error)) return error;
  return new UsageError(`${path} ${REASONS[error.code] ?? `could not be used (${error.code})`}`);
}

/** Whether an error is the system's, and that one where a code is given. */
export function isSystemError(error: unknown, code?: string): error is Error & { code: string } {
  if (!(error instanceof Error) || !("code" in error) || !("syscall" in error)) return false;
  return code === undefined || error.code === code;
}
