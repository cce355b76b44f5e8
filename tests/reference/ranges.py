"""Two answers of the pumped loop by Monte Carlo with numpy: the limit read from the graph, and the time constant.

One sheet of printed readings; thermometer with steps of 0.1 K and a noise of 0.05 K. Every draw is fitted again, so the
program's sensitivities of the fit are checked too. The axes are 5 K and 5 min for 10 mm; half a small square is 0.5 mm.
"""
import numpy as np

from stored import keep

DRAWS = 200_000
t = np.arange(0.0, 61.0, 4.0)
T = np.array([19.4, 28.1, 35.1, 40.9, 45.5, 49.2, 52.2, 54.5, 56.4, 57.9, 59.1, 60.1, 60.8, 61.5, 61.9, 62.3])
u = np.hypot(0.05, 0.1 / np.sqrt(12))
half_square_T = half_square_t = 0.25
half_figure = 0.05


def approach(y):
    """Limit of y = limit - (limit - start) exp(-t / constant), by Gauss-Newton for all rows of y at once."""
    p = np.tile([63.0, 13.0, 19.0], (len(y), 1))
    for _ in range(30):
        fall = np.exp(-t / p[:, 1:2])
        rest = y - (p[:, 0:1] - (p[:, 0:1] - p[:, 2:3]) * fall)
        j = np.stack([1 - fall, -(p[:, 0:1] - p[:, 2:3]) * fall * t / p[:, 1:2] ** 2, fall], axis=2)
        p = p + np.linalg.solve(np.swapaxes(j, 1, 2) @ j, np.swapaxes(j, 1, 2) @ rest[:, :, None])[:, :, 0]
    return p[:, 0]


def even(half_width):
    return rng.uniform(-half_width, half_width, DRAWS)


rng = np.random.default_rng(20240229)
readings = T + rng.normal(0.0, u, (DRAWS, len(T)))
limit = approach(readings) + even(half_square_T) + even(half_figure)
level = readings[:, 0] + 0.632 * (limit - readings[:, 0])
tau = np.array([np.interp(wanted, row, t) for wanted, row in zip(level, readings)])
tau += even(half_square_t) + even(half_figure)
rows = [["limit", float(approach(T[None, :])[0])], ["tau", None]]
rows[1][1] = float(np.interp(T[0] + 0.632 * (rows[0][1] - T[0]), T, t))
for row, draws in zip(rows, [limit, tau]):
    row += [float(draws.std(ddof=1)), float(np.quantile(draws, 0.025)), float(np.quantile(draws, 0.975))]
keep("ranges.csv", ["task", "value", "standard", "low", "high"], rows, 1e-7)
