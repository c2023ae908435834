import { z } from "zod";

/** What is believed of a request's headers; what has another form is taken for not said. */

/** Told twice, one reader would believe the first and the next one the second. */
const FROM = z.object({
  host: z.tuple([z.string()]),
  origin: z.array(z.string()).default([]),
});

/** Bytes, as HTTP writes them (RFC 9110, 8.6). */
const LENGTH = z.string().regex(/^\d+$/).transform(Number);

/** The revision a page opened, as this server wrote it into the ETag. */
const REVISION = z
  .string()
  .regex(/^"?\d+"?$/)
  .transform((tag) => tag.replaceAll('"', ""));

/** Headers by name, whatever they hold. */
type Headers = Readonly<Record<string, unknown>>;

/** Which host was asked, and which pages ask; null where that is told twice or not at all. */
export function fromOf({
  headersDistinct,
}: {
  readonly headersDistinct: Headers;
}): z.infer<typeof FROM> | null {
  return FROM.safeParse(headersDistinct).data ?? null;
}

/** The word that lets a page ask for the workbook. */
export function tokenOf(headers: Headers): string {
  return z.string().safeParse(headers["sparespan-token"]).data ?? "";
}

/** How many bytes are to come; 0 where that is not said. */
export function lengthOf(headers: Headers): number {
  return LENGTH.safeParse(headers["content-length"]).data ?? 0;
}

/** The revision of the workbook that a page saves; "" where none is named. */
export function revisionOf(headers: Headers): string {
  return REVISION.safeParse(headers["if-match"]).data ?? "";
}
