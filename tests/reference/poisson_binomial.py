"""The tail of Poisson's binomial distribution by scipy: the chance of at least so many successes in unequal trials."""
import numpy as np
from scipy.stats import poisson_binom

from stored import keep

generator = np.random.default_rng(7)
rows = []
for trials in (1, 2, 4, 8, 13):
    for scale in (0.01, 0.2, 1.0):
        chances = np.round(generator.random(trials) * scale, 6)
        for least in sorted({0, 1, trials // 2, trials}):
            value = 1.0 if least == 0 else float(poisson_binom.sf(least - 1, chances))
            rows.append([";".join(map(str, chances)), least, value])
keep("poisson_binomial.csv", ["chances", "least", "tail"], rows, 1e-9)
