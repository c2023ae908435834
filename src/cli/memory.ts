import { getHeapStatistics } from "node:v8";
import type { OpenOptions } from "../xlsx/index.ts";

/**
 * Bytes of memory that reading and judging take for each byte of a workbook's parts: measured on a register of
 * 100,000 rows without formulas, which takes most (with our columns 4.5).
 */
const MEMORY_A_BYTE = 8;

/** What Node is given unless somebody says otherwise differs from machine to machine; beyond it it would just end. */
export function memoryLimits(
  memory = getHeapStatistics().heap_size_limit,
): NonNullable<OpenOptions["limits"]> {
  return {
    total: Math.floor(memory / MEMORY_A_BYTE),
    remedy:
      "split it into smaller workbooks, or give Node more memory, such as NODE_OPTIONS=--max-old-space-size=8192",
  };
}
