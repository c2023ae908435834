# Lives of parts by R's survival package. Prints life.json; run by hand:
#   Rscript tests/reference/life.R | npx prettier --parser json > tests/reference/life.json
suppressPackageStartupMessages(library(survival))

set.seed(20260517)
num <- function(x) paste0("[", paste(ifelse(is.na(x), "null", formatC(x, digits = 15, format = "g")), collapse = ", "), "]")

# A log in which parts are replaced at six months and some were seen from a later age on.
n <- 60
life <- round(rweibull(n, 2.5, 9), 2)
end <- pmin(life, round(runif(n, 2, 7), 1))
worn <- as.integer(life <= end)
from <- ifelse(seq_len(n) %% 4 == 0, round(end * 0.4, 2), 0)

fit <- survreg(Surv(end, worn) ~ 1, dist = "weibull", control = survreg.control(rel.tolerance = 1e-14, maxiter = 200))
v <- fit$var # of the intercept (ln scale) and the log of 1 / shape
km <- summary(survfit(Surv(end, worn) ~ 1, conf.type = "log-log"))
late <- summary(survfit(Surv(from, end, worn) ~ 1, conf.type = "log-log"))

# survreg takes no entry times: the truncated likelihood, maximised directly.
minus <- function(p) {
  scale <- exp(p[1]); shape <- exp(p[2])
  -sum(worn * (log(shape / scale) + (shape - 1) * log(end / scale))) + sum((end / scale)^shape - (from / scale)^shape)
}
cut <- optim(c(2, 1), minus, method = "BFGS", control = list(reltol = 1e-16, maxit = 1000))

curve <- function(k) paste0(
  "{\"months\": ", num(k$time), ", \"atRisk\": ", num(k$n.risk), ", \"worn\": ", num(k$n.event),
  ", \"good\": ", num(k$surv), ", \"error\": ", num(k$std.err),
  ", \"low\": ", num(k$lower), ", \"high\": ", num(k$upper), "}")

cat("{\n")
cat("\"versions\": \"", R.version.string, ", survival ", as.character(packageVersion("survival")), "\",\n", sep = "")
cat("\"months\": ", num(end), ",\n\"worn\": ", num(worn), ",\n\"seenFrom\": ", num(from), ",\n", sep = "")
cat("\"weibull\": {\"scale\": ", num(exp(coef(fit)))," , \"shape\": ", num(1 / fit$scale),
    ", \"variances\": ", num(c(v[1, 1], v[2, 2], -v[1, 2])), "},\n", sep = "")
cat("\"truncated\": {\"scale\": ", num(exp(cut$par[1])), ", \"shape\": ", num(exp(cut$par[2])), "},\n", sep = "")
cat("\"counted\": ", curve(km), ",\n\"countedLate\": ", curve(late), "\n}\n", sep = "")
