# Fits against R's survival regression, a second program by other people: estimates, standard errors, log-likelihoods.
# usage: Rscript compare_survreg.R path/to/fit_driver
library(survival)

driver <- commandArgs(trailingOnly = TRUE)[1]
set.seed(20260417)
samples_per_kind <- 36
tolerance <- c(m = 1e-6, s = 1e-6, se_m = 1e-5, se_s = 1e-5, log_likelihood = 1e-6)
families <- c("normal", "lognormal", "weibull")
regression <- c(normal = "gaussian", lognormal = "lognormal", weibull = "weibull")
kinds <- c("exact", "stepped", "above", "below", "both", "mixed")

draw_strengths <- function(family, n) {
  size <- exp(runif(1, log(0.5), log(50000)))
  cv <- runif(1, 0.02, 0.28)
  switch(family,
    normal = pmax(size * (1 + cv * rnorm(n)), size * 0.01),
    lognormal = size * exp(cv * rnorm(n)),
    weibull = size * rexp(n)^(1 / (1.2 / cv)))
}

# Pulls as a rig sees them: [lower, upper]; upper Inf still whole, lower 0 broke at the first rung.
pull <- function(x, kind) {
  n <- length(x)
  lower <- upper <- x
  if (kind == "exact") return(cbind(lower, upper))
  step <- sd(x) * runif(1, 0.1, 1.6)
  start <- runif(1) * step
  rung <- ceiling((x - start) / step)
  stepped <- if (kind == "mixed") runif(n) < 0.6 else rep(TRUE, n)
  lower <- ifelse(stepped, pmax(start + step * (rung - 1), 0), x)
  upper <- ifelse(stepped, start + step * rung, x)
  if (kind %in% c("above", "both", "mixed")) {
    limit <- quantile(x, runif(1, 0.4, 0.95), names = FALSE)
    lower <- ifelse(x > limit, limit, lower)
    upper <- ifelse(x > limit, Inf, pmin(upper, ifelse(stepped, pmax(limit, x), upper)))
  }
  if (kind %in% c("below", "both", "mixed")) {
    first <- quantile(x, runif(1, 0.02, 0.35), names = FALSE)
    upper <- ifelse(x <= first, first, upper)
    lower <- ifelse(x <= first, 0, ifelse(is.finite(upper) & lower < upper, pmax(lower, first), lower))
  }
  cbind(lower, upper)
}

outside <- function(family, pulls) {
  open <- if (family == "normal") pulls[, 1] else ifelse(pulls[, 1] <= 0, NA, pulls[, 1])
  above <- ifelse(is.infinite(pulls[, 2]), NA, pulls[, 2])
  seen <- Surv(open, above, type = "interval2")
  notes <- character()
  fit <- withCallingHandlers(
    tryCatch(survreg(seen ~ 1, dist = regression[[family]],
                     control = survreg.control(maxiter = 500, rel.tolerance = 1e-13, toler.chol = 1e-14)),
             error = function(e) NULL),
    warning = function(w) { notes <<- c(notes, conditionMessage(w)); invokeRestart("muffleWarning") })
  if (is.null(fit) || length(notes) > 0) return(NULL)
  s <- fit$scale
  # survreg works in (m, ln s).
  c(m = unname(coef(fit)), s = s, se_m = sqrt(fit$var[1, 1]), se_s = s * sqrt(fit$var[2, 2]), log_likelihood = fit$loglik[2])
}

samples <- list()
for (family in families) for (kind in kinds) for (i in seq_len(samples_per_kind)) {
  n <- round(exp(runif(1, log(3), log(200))))
  samples[[length(samples) + 1]] <- list(family = family, kind = kind, pulls = pull(draw_strengths(family, n), kind))
}

input <- unlist(lapply(samples, function(x)
  c(paste(x$family, nrow(x$pulls)), sprintf("%.17g %.17g", x$pulls[, 1], x$pulls[, 2]))))
answers <- system2(driver, input = tolower(input), stdout = TRUE)
stopifnot(length(answers) == length(samples))

compared <- no_maximum <- unsettled <- wrong <- 0
worst <- setNames(rep(0, length(tolerance)), names(tolerance))
for (i in seq_along(samples)) {
  x <- samples[[i]]
  words <- strsplit(answers[i], " ")[[1]]
  if (words[6] != "converged") {
    if (words[6] == "not_converged") {
      wrong <- wrong + 1
      cat(sprintf("sample %d, %s %s, %d parts: holdfast did not converge\n", i, x$family, x$kind, nrow(x$pulls)))
    } else no_maximum <- no_maximum + 1
    next
  }
  got <- setNames(as.numeric(words[1:5]), names(tolerance))
  expected <- outside(x$family, x$pulls)
  if (is.null(expected)) {
    unsettled <- unsettled + 1
    next
  }
  compared <- compared + 1
  # m of a log family may pass through 0: its own spread is then the scale.
  scale <- abs(expected)
  scale["m"] <- max(scale["m"], expected["s"])
  scale["log_likelihood"] <- max(scale["log_likelihood"], 1)
  error <- abs(got - expected) / scale
  worst <- pmax(worst, error)
  if (!all(error <= tolerance)) {
    wrong <- wrong + 1
    cat(sprintf("sample %d, %s %s, %d parts: holdfast %s, R %s\n", i, x$family, x$kind, nrow(x$pulls),
                paste(format(got, digits = 12), collapse = " "), paste(format(expected, digits = 12), collapse = " ")))
  }
}
cat("worst relative errors:", paste(names(worst), format(worst, digits = 2), collapse = ", "), "\n")
cat(sprintf("%d samples: %d compared, %d without a maximum, %d that R did not settle, %d differ\n", length(samples), compared,
            no_maximum, unsettled, wrong))
if (wrong > 0 || compared < 0.9 * length(samples)) quit(status = 1)
