# Least squares by R's lm, its usual tolerance; the same lines in and out as beside.py.
for (line in readLines(file("stdin"))) {
  part <- strsplit(line, "\t")[[1]]
  rows <- as.matrix(read.csv(part[2]))
  y <- rows[, 1]
  x <- rows[, -1, drop = FALSE]
  if (as.integer(part[3]) > 0) x <- sapply(1:as.integer(part[3]), function(k) x[, 1]^k)
  fit <- if (part[4] == "1") lm(y ~ x) else lm(y ~ x - 1)
  found <- coef(fit)
  found[is.na(found)] <- 0
  cat("R", part[1], format(found, digits = 17), sep = "\t")
  cat("\n")
}
