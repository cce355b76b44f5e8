"""What chance allows: quantiles for the tests of draws, and the statistics of a small sample by scipy.

Quantiles: chi-square of the counts over a grid of values, Kolmogorov-Smirnov for n values of an (almost) even
distribution, the normal one for the runs test. The sample pins how the tests compute their statistics.
"""
import numpy
import scipy.stats

from stored import keep

ONE_IN = 1e-6
SAMPLE = [0.01, 0.12, 0.13, 0.31, 0.32, 0.38, 0.55, 0.61, 0.77, 0.79, 0.86, 0.93, 0.95, 0.40, 0.24]


def runs_z(values):
    """Wald and Wolfowitz 1940: runs above and below the median, as a standard normal deviate."""
    above = [value > numpy.median(values) for value in values if value != numpy.median(values)]
    runs = 1 + sum(one != other for one, other in zip(above, above[1:]))
    many, few = sum(above), len(above) - sum(above)
    mean = 2 * many * few / (many + few) + 1
    variance = (mean - 1) * (mean - 2) / (many + few - 1)
    return (runs - mean) / variance ** 0.5


rows = [["chi-square quantile", free, float(scipy.stats.chi2.isf(ONE_IN, free))] for free in range(1, 400)]
rows.append(["Kolmogorov quantile", 5000, float(scipy.stats.kstwo.isf(ONE_IN, 5000))])
rows.append(["normal quantile, two-sided", 0, float(scipy.stats.norm.isf(ONE_IN / 2))])
counts = numpy.histogram(SAMPLE, bins=5, range=(0, 1))[0]
rows.append(["chi-square of the sample in five bins", 15, float(scipy.stats.chisquare(counts).statistic)])
rows.append(["Kolmogorov distance of the sample", 15, float(scipy.stats.kstest(SAMPLE, "uniform").statistic)])
rows.append(["runs of the sample", 15, float(runs_z(SAMPLE))])
keep("spread_of_draws.csv", ["what", "number", "value"], rows, 1e-9)
