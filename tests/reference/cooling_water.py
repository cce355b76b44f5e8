"""A measured cooling curve and one lumped body, by scipy.

`cooling_water.csv`: hot water in a mug, one reading a minute in steps of 0.1 K, measured by Stan Wagon (copied, not
made). The model: `T = limit + (start - limit) exp(-t / constant)`, `t` counted from the first reading used. Fit:
`curve_fit` with equal weights, the noise not told; standard errors from s^2 (J^T J)^-1, with J written out. Made again
from another start with differences.
The whole curve does not follow the model (`residual_sd` 1.5 K, fifteen steps of the thermometer; an open surface also
cools by evaporation): limit and constant wander as the hot part is left out. After two hours it does (0.04 K).
"""
import csv
import pathlib

import numpy as np
from scipy.optimize import curve_fit, least_squares

from stored import keep

with pathlib.Path(__file__).with_name("cooling_water.csv").open() as file:
    curve = np.array([[float(cell) for cell in row] for row in list(csv.reader(file))[2:]])


def body(t, limit, constant, start):
    return limit + (start - limit) * np.exp(-t / constant)


def slopes(t, limit, constant, start):
    fall = np.exp(-t / constant)
    return np.stack([1 - fall, (start - limit) * fall * t / constant ** 2, fall], axis=1)


rows = []
for name, first, every in [("all", 0, 1), ("tenth", 0, 10), ("after-60-min", 60, 1), ("after-120-min", 120, 1)]:
    t, seen = curve[first::every].T
    t = t - t[0]
    options = dict(absolute_sigma=False, xtol=1e-14, ftol=1e-14, gtol=1e-14)
    found, matrix = curve_fit(body, t, seen, p0=[seen[-1], t[-1] / 3, seen[0]], jac=slopes, **options)
    error = np.sqrt(np.diag(matrix))
    rest = seen - body(t, *found)
    s = np.sqrt(rest @ rest / (len(t) - len(found)))
    again = least_squares(lambda p: body(t, *p) - seen, [0.0, 100.0, 50.0], jac="3-point", x_scale="jac", xtol=1e-14,
                          ftol=1e-14, gtol=1e-14)
    other = s * np.sqrt(np.diag(np.linalg.inv(again.jac.T @ again.jac)))
    assert np.all(np.abs(again.x - found) < 1e-5 * error) and np.allclose(other, error, rtol=1e-6), name
    for key, unit, value, standard in zip(["limit", "constant", "start"], ["°C", "min", "°C"], found, error):
        rows.append([name, first, every, len(t), key, unit, float(value), float(standard), float(s)])
header = "set,first_row,every,readings,parameter,unit,estimate,standard_error,residual_sd".split(",")
keep("cooling_water_fit.csv", header, rows, 1e-7)
