# The same work by R's survival regression, one line each: name and rate a second. For ratios in `bench` only.
suppressPackageStartupMessages(library(survival))
set.seed(1)
rate <- function(make, dist, seconds = 2) {
  samples <- lapply(1:20, function(i) make(exp(6.79 + 0.08 * log(-log(runif(10))))))
  start <- proc.time()[["elapsed"]]; done <- 0
  while (proc.time()[["elapsed"]] - start < seconds) {
    for (s in samples) suppressWarnings(survreg(s ~ 1, dist = dist))
    done <- done + length(samples)
  }
  done / (proc.time()[["elapsed"]] - start)
}
exact <- function(x) Surv(x, rep(1, length(x)))
stepped <- function(x) Surv(40 * floor(x / 40), 40 * floor(x / 40) + 40, type = "interval2")
cat("exact_weibull", rate(exact, "weibull"), "\n")
cat("stepped_weibull", rate(stepped, "weibull"), "\n")
cat("stepped_normal", rate(stepped, "gaussian"), "\n")
x <- exp(6.79 + 0.08 * log(-log(runif(1e6))))
t <- system.time(survreg(Surv(x, rep(1, 1e6)) ~ 1, dist = "weibull"))[["elapsed"]]
cat("million_per_second", 1 / t, "\n")
