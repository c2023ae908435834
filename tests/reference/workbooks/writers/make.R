# The book of openxlsx; called by make.py with the cells and where to write. Reads the JSON with R alone.
library(openxlsx)
arguments <- commandArgs(trailingOnly = TRUE)
text <- paste(readLines(arguments[1], warn = FALSE), collapse = "")
section <- function(name) regmatches(text, regexpr(paste0('"', name, '": \\[.*?\\](?=, "|\\})'), text, perl = TRUE))
strings <- function(piece) gsub('"', "", regmatches(piece, gregexpr('"[^"]*"', piece))[[1]])
headings <- strings(section("headings"))[-1]
rows <- matrix(strings(section("rows"))[-1], ncol = 5, byrow = TRUE)
months <- as.Date(strings(section("months"))[-1])
sessions <- section("sessions")
devices <- strings(sessions)[-1]
numbers <- matrix(as.numeric(regmatches(sessions, gregexpr("(?<=, )[0-9]+(?=[],])", sessions, perl = TRUE))[[1]]), ncol = 6, byrow = TRUE)
book <- createWorkbook()
addWorksheet(book, "Equipment")
data <- data.frame(rows[, 1], rows[, 2], as.Date(rows[, 3]), as.Date(rows[, 4]), rows[, 5], numeric(nrow(rows)))
names(data) <- headings
writeDataTable(book, "Equipment", data, tableName = "Kit")
for (row in seq_len(nrow(rows))) {
  writeFormula(book, "Equipment", sprintf("ROUND((DATE(2026,7,6)-C%d)/365.25,2)", row + 1), startCol = 6, startRow = row + 1)
}
setColWidths(book, "Equipment", 1:6, "auto")
freezePane(book, "Equipment", firstRow = TRUE)
conditionalFormatting(book, "Equipment", cols = 6, rows = 2:10, rule = ">0.4")
addWorksheet(book, "Sessions")
counts <- data.frame(devices, numbers)
writeData(book, "Sessions", counts, startRow = 2, colNames = FALSE)
writeData(book, "Sessions", "Device")
writeData(book, "Sessions", t(as.numeric(months) + 25569), startCol = 2, colNames = FALSE)
addStyle(book, "Sessions", createStyle(numFmt = "mmm yy"), rows = 1, cols = 2:7)
saveWorkbook(book, file.path(arguments[2], "openxlsx.xlsx"), overwrite = TRUE)
