/** What reading and writing an archive have in common; the form is that of PKWARE's APPNOTE. */

/** One entry of an archive, its headers and packed bytes exactly as they lie in the file. */
export interface Entry {
  readonly name: string;
  readonly method: number;
  readonly crc: number;
  readonly size: number;
  readonly packed: Uint8Array;
  readonly header: Uint8Array;
  readonly record: Uint8Array;
}

/** An archive taken apart. */
export interface Archive {
  /** In the order of its directory. */
  readonly entries: readonly Entry[];
  /** Bytes behind its end, which somebody put there. */
  readonly comment: Uint8Array;
}

/** What an entry is replaced by, packed already. */
export interface Packed {
  readonly crc: number;
  readonly size: number;
  readonly packed: Uint8Array;
}

export const LOCAL = 0x04034b50;
export const CENTRAL = 0x02014b50;
export const END = 0x06054b50;
export const DEFLATED = 8;
export const LOCAL_SIZE = 30;
export const CENTRAL_SIZE = 46;
export const END_SIZE = 22;

/** Numbers in the bytes of a block. */
export function view(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
