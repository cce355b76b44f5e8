"""Smooth curves through points, by scipy's monotone piecewise cubic (PCHIP)."""
import numpy as np
from scipy.interpolate import PchipInterpolator

from stored import keep

sets = {
    "plateau": ([0, 4, 8, 12, 16, 20, 26, 30], [20.0, 31.5, 42.0, 53.1, 53.9, 54.2, 54.3, 61.0]),
    "hump": ([0.5, 1, 2, 3, 5, 8], [0.12, 0.20, 0.29, 0.31, 0.28, 0.21]),
    "two": ([1, 3], [2.0, -4.0]),
    "steep end": ([0, 1, 2], [0.0, 1.0, 0.9]),
    "turning end": ([0, 1, 4], [1.0, 1.1, 9.0]),
}
rows = []
for name, (x, y) in sets.items():
    curve = PchipInterpolator(x, y)
    for at in np.linspace(x[0], x[-1], 13):
        rows.append([name, ";".join(map(str, x)), ";".join(map(str, y)), float(at), float(curve(at))])
keep("smooth.csv", ["set", "x", "y", "at", "value"], rows, 1e-12)
