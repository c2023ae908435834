# Lives under exposure by R's survival package. Prints exposed.json; run by hand:
#   Rscript tests/reference/exposed.R | npx prettier --parser json > tests/reference/exposed.json
suppressPackageStartupMessages({ library(survival); library(MASS) })

set.seed(20261130)
num <- function(x) paste0("[", paste(formatC(x, digits = 15, format = "g"), collapse = ", "), "]")
rows <- function(m) paste0("[", paste(apply(m, 1, num), collapse = ", "), "]")

# Shape, start and effects of ln wear = shape * ln t + start + effects * x, and their covariances, from
# survreg's ln t = intercept + b * x + scale * error, whose variances are of (intercept, b, ln scale).
fitted <- function(data) {
  x <- as.matrix(data[, -(1:2), drop = FALSE])
  form <- if (ncol(x) == 0) Surv(data$months, data$failed) ~ 1 else Surv(data$months, data$failed) ~ x
  fit <- survreg(form, dist = "weibull", control = survreg.control(rel.tolerance = 1e-14, maxiter = 200))
  b <- unname(coef(fit)); s <- fit$scale; k <- length(b)
  j <- matrix(0, k + 1, k + 1)
  j[1, k + 1] <- -1 / s
  for (at in seq_len(k)) { j[1 + at, at] <- -1 / s; j[1 + at, k + 1] <- b[at] / s }
  list(parameters = c(1 / s, -b / s), covariance = j %*% fit$var %*% t(j), likelihood = fit$loglik[2])
}

told <- function(name, source, data) {
  f <- fitted(data)
  x <- as.matrix(data[, -(1:2), drop = FALSE])
  cat("{\"name\": \"", name, "\", \"source\": \"", source, "\",\n\"months\": ", num(data$months), ",\n\"failed\": ",
      num(data$failed), ",\n\"factors\": ", rows(x), ",\n\"parameters\": ", num(f$parameters),
      ",\n\"covariance\": ", rows(f$covariance), ",\n\"likelihood\": ", num(f$likelihood), "}", sep = "")
}

blood <- data.frame(months = leuk$time, failed = 1, ag = as.numeric(leuk$ag == "present"), wbc = log(leuk$wbc))

# Parts under use and wipes, replaced at six months at the latest.
n <- 120
use <- round(exp(rnorm(n, log(35), 0.6)), 1)
wipes <- as.numeric(seq_len(n) %% 3 == 0)
life <- 9 * (35 / use)^0.8 * ifelse(wipes == 1, 0.7, 1) * rweibull(n, 2.5, 1)
end <- round(pmin(life, runif(n, 3, 6)), 2)
parts <- data.frame(months = end, failed = as.numeric(life <= end), use = log(use), wipes = wipes)

cat("{\n\"versions\": \"", R.version.string, ", survival ", as.character(packageVersion("survival")), ", MASS ",
    as.character(packageVersion("MASS")), "\",\n\"logs\": [\n", sep = "")
told("survival times of 33 patients, by a test and the count of white cells", "Feigl and Zelen 1965, as in MASS", blood)
cat(",\n")
told("parts under use and wipes, most of them replaced in time", "drawn in this script", parts)
cat("\n]}\n")
