import { bookOrderSteps, type Orders, type OrdersRequest } from "../book/orders/orders.ts";
import { finished } from "../book/workbook/steps.ts";
import { needDevices, type OpenBook } from "./open.ts";
import { flag } from "./option.ts";

/** Said to the commands that order. */
export const POOL = flag("keep one store for all sites");

/** What a book has to order in the year ahead. */
export function ordersFor(book: OpenBook, given: OrdersRequest): Orders {
  needDevices(book);
  return finished(bookOrderSteps(book.workbook.snapshot, book.reading, given));
}
