# Values of test_probability.c: survreg's quantiles, and the middles of the Kaplan-Meier jumps.
# Rscript tests/chart/probability_reference.R
suppressMessages(library(survival))
lower <- c(700, 740, 740, 780, 780, 820, 820, 860, 900, 900)
upper <- c(740, 780, 780, 820, 820, 860, 860, 900, NA, NA)
data <- Surv(lower, upper, type = "interval2")
shares <- c(0.1, 0.5, 0.9)
for (law in c("gaussian", "lognormal", "weibull")) {
  fit <- survreg(data ~ 1, dist = law, control = survreg.control(rel.tolerance = 1e-12, maxiter = 200))
  p <- predict(fit, newdata = data.frame(x = 1), type = "uquantile", p = shares)
  y <- as.vector(p)[1:3]
  back <- if (law == "gaussian") identity else exp
  for (i in 1:3) cat(sprintf("%-10s %.2f load %.10g\n", law, shares[i], back(y[i])))
}
whole <- data.frame(load = c(700, 720, 735, 750, 780, 810, 830), failed = c(1, 0, 1, 1, 0, 1, 0))
km <- survfit(Surv(load, failed) ~ 1, data = whole)
before <- c(1, head(km$surv, -1)); keep <- km$n.event > 0
print(data.frame(load = km$time, middle = 1 - (before + km$surv) / 2)[keep, ], digits = 12)
