# Times the same fits in R: the stint model as struck and over the same strikes, with Kenward-Roger contrasts.
# Reads a CSV of shots (head, stint, shot, x, y, carry) and prints one line a fit: name, milliseconds (median).
suppressMessages({ library(lme4); library(pbkrtest) })
shots <- read.csv(commandArgs(TRUE)[1])
shots$head <- factor(shots$head)
shots$stint <- factor(shots$stint)
shots$t <- (rank(shots$shot) - 1) / (nrow(shots) - 1)
struck <- carry ~ 0 + head + t + (1 | stint)
same <- carry ~ 0 + head + x + y + head:I(x^2) + head:I(y^2) + I(x * y) + t + (1 | stint)
median_time <- function(run, rounds = 5) {
  run()
  median(sapply(seq_len(rounds), function(i) system.time(run())[["elapsed"]])) * 1000
}
contrasts_of <- function(formula) {
  fit <- suppressMessages(lmer(formula, data = shots, REML = TRUE))
  adjusted <- vcovAdj(fit)
  size <- length(fixef(fit))
  pairs <- combn(nlevels(shots$head), 2)
  apply(pairs, 2, function(pair) {
    weights <- numeric(size)
    weights[pair] <- c(-1, 1)
    c(sum(weights * fixef(fit)), sqrt(as.numeric(t(weights) %*% adjusted %*% weights)), Lb_ddf(weights, vcov(fit), adjusted))
  })
}
cat("as struck", median_time(function() contrasts_of(struck)), sep = "\t", fill = TRUE)
cat("same strikes", median_time(function() contrasts_of(same)), sep = "\t", fill = TRUE)
