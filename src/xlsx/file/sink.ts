import { type Codec, encode } from "./codec.ts";

/** Text written piece by piece and kept as bytes, so that a large sheet is never one long text again. */
export interface Sink {
  text: string;
  bytes: Uint8Array;
  filled: number;
  readonly encodeInto: Codec["encodeInto"];
}

const SLICE = 1 << 14;
const GROWTH = 1.5;

/** Most bytes that a character of a text takes. */
const WIDEST = 3;

/** A sink with room for about so many bytes. */
export function newSink(room: number, { encodeInto }: Pick<Codec, "encodeInto">): Sink {
  return { text: "", bytes: new Uint8Array(Math.ceil(room)), filled: 0, encodeInto };
}

/** Adds a piece. */
export function put(sink: Sink, piece: string): void {
  sink.text += piece;
  if (sink.text.length > SLICE) flush(sink);
}

/** All bytes written. */
export function bytesOf(sink: Sink): Uint8Array {
  flush(sink);
  return sink.bytes.subarray(0, sink.filled);
}

function flush(sink: Sink): void {
  if (sink.encodeInto && sink.filled + sink.text.length * WIDEST <= sink.bytes.length) {
    sink.filled += sink.encodeInto(sink.text, sink.bytes.subarray(sink.filled));
    sink.text = "";
    return;
  }
  const bytes = encode(sink.text);
  sink.text = "";
  const needed = sink.filled + bytes.length;
  if (needed > sink.bytes.length) {
    const grown = new Uint8Array(Math.ceil(needed * GROWTH));
    grown.set(sink.bytes.subarray(0, sink.filled));
    sink.bytes = grown;
  }
  sink.bytes.set(bytes, sink.filled);
  sink.filled = needed;
}
