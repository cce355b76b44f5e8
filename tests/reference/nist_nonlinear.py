"""Certified nonlinear fits: are the stored numbers whole?

`nist_nonlinear.csv` and `nist_nonlinear_data.csv` are copied, not made. With the certified parameters the model must
give the certified sum of squares, and its central differences the certified standard deviations. A wrong digit in the
data, a model or a parameter shows. With and without --check it only compares; `found from` counts the starts from
which scipy's Levenberg-Marquardt gets there, for comparison.
"""
import csv
import pathlib
import sys

import numpy as np
from scipy.optimize import least_squares

HERE = pathlib.Path(__file__).parent
WORDS = {name: getattr(np, name) for name in ("exp", "sin", "cos", "pi")} | {"atan": np.arctan}


def table(name):
    with (HERE / name).open() as file:
        return list(csv.DictReader(file))


def slopes(model, b):
    """Central differences of the fourth order."""
    columns = []
    for index, value in enumerate(b):
        h = np.zeros(len(b))
        h[index] = 1e-3 * abs(value) / 8
        near, far = model(b + h) - model(b - h), model(b + 2 * h) - model(b - 2 * h)
        columns.append((8 * near - far) / (12 * h[index]))
    return np.stack(columns, axis=1)


def deviations(jacobian, variance):
    scale = np.linalg.norm(jacobian, axis=0)
    r = np.linalg.qr(jacobian / scale)[1]
    return np.sqrt(variance) * np.linalg.norm(np.linalg.inv(r), axis=1) / scale


options = dict(method="lm", x_scale="jac", xtol=1e-14, ftol=1e-14, gtol=1e-14, max_nfev=100_000)
np.seterr(all="ignore")  # far from the certified values a start may overflow
points = table("nist_nonlinear_data.csv")
sets = {}
for row in table("nist_nonlinear.csv"):
    sets.setdefault(row["set"], []).append(row)
for name, rows in sets.items():
    x, y = (np.array([float(point[axis]) for point in points if point["set"] == name]) for axis in "xy")
    text = compile(rows[0]["model"].replace("^", "**"), name, "eval")
    column = lambda key: np.array([float(row[key]) for row in rows])
    b, total, free = column("certified"), column("residual_sum")[0], int(rows[0]["degrees_of_freedom"])
    model = lambda b: eval(text, {"__builtins__": {}}, WORDS | {"x": x} | {f"b{i + 1}": v for i, v in enumerate(b)})
    if free != len(x) - len(b) or abs(column("residual_sd")[0] ** 2 * free / total - 1) > 1e-9:
        sys.exit(f"{name}: degrees of freedom")
    rest = y - model(b)
    sum_off = abs(rest @ rest / total - 1)
    sd_off = np.max(np.abs(deviations(slopes(model, b), total / free) / column("standard_deviation") - 1))
    found = 0
    for key in ("start1", "start2"):
        fit = least_squares(lambda v: model(v) - y, column(key), **options)
        found += bool(np.all(np.abs(fit.x / b - 1) < 1e-4))
    off = f"sum of squares off by {sum_off:.0e}, standard deviations by {sd_off:.0e}"
    print(f"{name}: {off}, found from {found} of 2 starts")
    if sum_off > 1e-9 or sd_off > 1e-7:
        sys.exit(f"{name}: not what is certified")
