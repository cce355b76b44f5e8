"""The functions of the formula language on one table of readings, by numpy and scipy."""
import numpy as np
from scipy import integrate, optimize, stats

from stored import keep

t = np.array([0.0, 4.0, 8.0, 12.0, 16.0, 20.0, 24.0, 28.0, 32.0, 40.0, 48.0, 60.0])
y = np.array([18.6, 27.6, 34.7, 40.6, 45.1, 48.6, 51.3, 53.4, 55.0, 57.2, 58.5, 59.6])


def approach(x, limit, constant, start):
    return limit - (limit - start) * np.exp(-x / constant)


fit, cov = optimize.curve_fit(approach, t, y, p0=[60.0, 13.0, 18.0], xtol=1e-15, ftol=1e-15)
line = stats.linregress(t, y)
inside = (t >= 4) & (t <= 20)
part = stats.linregress(t[inside], y[inside])
values = {
    "first(y)": y[0], "last(y)": y[-1], "at(y, t, 13)": y[np.argmin(abs(t - 13))], "mean(y)": y.mean(),
    "stdev(y)": y.std(ddof=1), "sum(y)": y.sum(), "min(y)": y.min(), "max(y)": y.max(),
    "sum(differences(y))": np.diff(y).sum(), "max(differences(y))": np.diff(y).max(),
    "mean(midpoints(t))": ((t[1:] + t[:-1]) / 2).mean(),
    "area(y, t)": integrate.trapezoid(y, t), "area(y, t, 4, 20)": integrate.trapezoid(y[inside], t[inside]),
    "interpolate(y, t, 10)": np.interp(10.0, t, y), "interpolate(t, y, 50)": np.interp(50.0, y, t),
    "slope(y, t)": line.slope, "intercept(y, t)": line.intercept, "slope_u(y, t)": line.stderr,
    "intercept_u(y, t)": line.intercept_stderr, "slope(y, t, 4, 20)": part.slope,
    "slope_u(y, t, 4, 20)": part.stderr, "limit(y, t)": fit[0], "time_constant(y, t)": fit[1],
    "sqrt(2)": np.sqrt(2), "exp(0.5)": np.exp(0.5), "ln(3)": np.log(3), "lg(3)": np.log10(3),
    "sin(0.5 rad)": np.sin(0.5), "cos(0.5 rad)": np.cos(0.5), "tan(0.5 rad)": np.tan(0.5), "abs(2 - 3)": 1.0,
    "2 ^ 3 ^ 0.5": 2.0 ** (3.0 ** 0.5), "-2 ^ 2": -4.0, "10 - 4 - 3": 3.0, "12 / 3 / 2": 2.0,
}
keep("functions.csv", ["formula", "value"], [[name, float(value)] for name, value in values.items()], 1e-7)
