import { type Codec, encode } from "./codec.ts";

/** Text written piece by piece and kept as bytes, so that a large sheet is never one long text again. */
export interface Sink {
  bytes: Uint8Array;
  filled: number;
  readonly encodeInto: Codec["encodeInto"];
}

const GROWTH = 1.5;

/** Pieces up to here are there sooner letter by letter than by an encoder that must be called. */
const SHORT = 64;

/** Most bytes that a character of a text takes. */
const WIDEST = 3;

const LAST_OF_ONE_BYTE = 127;
const ZERO = 48;
const MOST_DIGITS = 10;

/** A sink with room for about so many bytes. */
export function newSink(room: number, { encodeInto }: Pick<Codec, "encodeInto">): Sink {
  return { bytes: new Uint8Array(Math.ceil(room)), filled: 0, encodeInto };
}

/** Adds a piece. */
export function put(sink: Sink, piece: string): void {
  if (piece.length > SHORT || !putLetters(sink, piece)) putEncoded(sink, piece);
}

/** Adds bytes as they are. */
export function putAll(sink: Sink, bytes: Uint8Array): void {
  makeRoom(sink, bytes.length);
  sink.bytes.set(bytes, sink.filled);
  sink.filled += bytes.length;
}

/** Adds bytes from here to there. */
export function putBytes(sink: Sink, bytes: Uint8Array, from: number, to: number): void {
  if (to > from) putAll(sink, bytes.subarray(from, to));
}

/** Adds a whole number below ten thousand million, zero or more, as it is written. */
export function putWhole(sink: Sink, number: number): void {
  makeRoom(sink, MOST_DIGITS);
  let size = 1;
  for (let most = 10; number >= most; most *= 10) size += 1;
  let left = number;
  for (let at = sink.filled + size - 1; at >= sink.filled; at -= 1) {
    const rest = Math.floor(left / 10);
    sink.bytes[at] = ZERO + left - rest * 10;
    left = rest;
  }
  sink.filled += size;
}

/** All bytes written. */
export function bytesOf({ bytes, filled }: Sink): Uint8Array {
  return bytes.subarray(0, filled);
}

/** Adds a piece of letters that take one byte each; adds nothing where another is among them. */
function putLetters(sink: Sink, piece: string): boolean {
  makeRoom(sink, piece.length);
  const { bytes, filled } = sink;
  for (let at = 0; at < piece.length; at += 1) {
    const code = piece.charCodeAt(at);
    if (code > LAST_OF_ONE_BYTE) return false;
    bytes[filled + at] = code;
  }
  sink.filled = filled + piece.length;
  return true;
}

function putEncoded(sink: Sink, piece: string): void {
  const { bytes, filled, encodeInto } = sink;
  if (encodeInto && filled + piece.length * WIDEST <= bytes.length) {
    sink.filled += encodeInto(piece, bytes.subarray(filled));
    return;
  }
  const encoded = encode(piece);
  makeRoom(sink, encoded.length);
  sink.bytes.set(encoded, filled);
  sink.filled += encoded.length;
}

function makeRoom(sink: Sink, size: number): void {
  const needed = sink.filled + size;
  if (needed <= sink.bytes.length) return;
  const grown = new Uint8Array(Math.ceil(needed * GROWTH));
  grown.set(sink.bytes.subarray(0, sink.filled));
  sink.bytes = grown;
}
