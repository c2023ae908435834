import { onDemand } from "../../on-demand.ts";
import type * as SecondParts from "./second-parts.ts";

/** What the pane fetches second: what is told beside the first list, and what works changes out. */
export const second = onDemand<typeof SecondParts>(() => import("./second-parts.ts"));
