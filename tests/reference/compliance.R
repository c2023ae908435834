# Writes compliance.json: limits of shares for tests/core/compliance.test.ts, smoothing for tests/core/trend.test.ts.
# prop.test without correction gives Wilson's limits, binom.test those of Clopper and Pearson;
# HoltWinters (given weights and starts) the smoothing of its own data set AirPassengers.
#     Rscript tests/reference/compliance.R > tests/reference/compliance.json
set.seed(20260517)
full <- function(x) formatC(x, digits = 17, format = "g")
list_of <- function(x) paste0("[", paste(full(x), collapse = ","), "]")
due <- c(1, 1, 2, 7, 50, sample(2:3000, 55, replace = TRUE))
done <- vapply(due, function(n) sample(0:n, 1), 1)
done[1] <- 0; done[2] <- 1; done[5] <- 50
level <- rep(c(0.8, 0.9, 0.95, 0.99), length.out = length(due))
rows <- mapply(function(x, n, level) {
  wilson <- suppressWarnings(prop.test(x, n, conf.level = level, correct = FALSE)$conf.int)
  exact <- binom.test(x, n, conf.level = level)$conf.int
  sprintf('{"done":%d,"due":%d,"level":%s,"wilson":%s,"exact":%s}', x, n, full(level), list_of(wilson), list_of(exact))
}, as.integer(done), as.integer(due), level)

y <- as.numeric(AirPassengers)
one <- mean(y[1:12]); two <- mean(y[13:24])
season <- function(a, b, g, steps) {
  fit <- HoltWinters(AirPassengers, alpha = a, beta = b, gamma = g, l.start = one,
                     b.start = (two - one) / 12, s.start = y[1:12] - one)
  sprintf('{"alpha":%s,"beta":%s,"gamma":%s,"ahead":%s}', full(a), full(b), full(g), list_of(predict(fit, steps)))
}
# HoltWinters starts a trend at the third value, where level and slope are given.
trend <- function(a, b, steps) {
  fit <- HoltWinters(ts(y), alpha = a, beta = b, gamma = FALSE, l.start = y[2], b.start = y[2] - y[1])
  sprintf('{"alpha":%s,"beta":%s,"ahead":%s}', full(a), full(b), list_of(predict(fit, steps)))
}
level_of <- function(a) {
  fit <- HoltWinters(ts(y), alpha = a, beta = FALSE, gamma = FALSE, l.start = y[1])
  sprintf('{"alpha":%s,"ahead":%s}', full(a), list_of(predict(fit, 1)))
}
cat(sprintf('{"made":"compliance.R, %s",\n"rows":[\n%s],\n"passengers":%s,\n"season":[%s],\n"trend":[%s],\n"level":[%s]}\n',
  R.version.string, paste(rows, collapse = ",\n"), list_of(y),
  paste(c(season(0.3, 0.1, 0.2, 15), season(0.05, 0.4, 0.9, 15), season(0.9, 0, 0, 15)), collapse = ",\n"),
  paste(c(trend(0.8, 0.2, 5), trend(0.3, 0.1, 5)), collapse = ",\n"),
  paste(c(level_of(0.1), level_of(0.6)), collapse = ",\n")))
