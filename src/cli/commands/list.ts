import type { Command } from "../command.ts";
import { ahead } from "./ahead.ts";
import { budget } from "./budget.ts";
import { calculate } from "./calc.ts";
import { calendar } from "./calendar.ts";
import { check } from "./check.ts";
import { columns } from "./columns.ts";
import { demo } from "./demo.ts";
import { evidence } from "./evidence.ts";
import { log } from "./log.ts";
import { lot } from "./lot.ts";
import { fresh } from "./new.ts";
import { mend } from "./mend.ts";
import { order } from "./order.ts";
import { ownLog } from "./own-log.ts";
import { rounds } from "./rounds.ts";
import { schemaOf } from "./schema.ts";
import { shareCopy } from "./share-copy.ts";
import { shareMail } from "./share-mail.ts";
import { shareOrder } from "./share-order.ts";
import { start } from "./start.ts";
import { summary } from "./summary.ts";
import { today } from "./today.ts";

const WORKING: readonly Command[] = [
  today,
  check,
  mend,
  log,
  ownLog,
  rounds,
  calendar,
  columns,
  fresh,
  start,
  demo,
  ahead,
  budget,
  order,
  shareOrder,
  shareCopy,
  shareMail,
  evidence,
  lot,
  summary,
  calculate,
];

/** Every command, in the order help lists them. */
export const COMMANDS: readonly Command[] = [...WORKING, schemaOf(WORKING)];
