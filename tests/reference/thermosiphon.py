"""The loop without a pump by an independent solution.

Written from the equations in the head of src/bench/thermosiphon.rs; it shares no code with the program. Flow and
temperature behind the heater are solved together as two equations.
"""
import math

import numpy as np
from scipy.optimize import fsolve

from stored import keep

# Density, c_p and ln(viscosity) of water, polynomials in t / 100 degC (documented in src/bench/water.rs).
RHO = [999.8459, 6.566951, -87.58744, 82.17275, -73.42178, 40.91129, -10.14159]
CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]
MU = [-6.324584, -3.48203, 3.591353, -4.446061, 4.923679, -3.917439, 1.8807, -0.4007203]
DEFAULTS = dict(
    height=0.25, tube_diameter=8.0, tube_length=1.0, fittings=6.0, jacket_loss=0.05, cold_temperature=20.0,
    marked_length=0.2, room_temperature=20.0,
)
SETS = [
    (12.0, {}),
    (5.0, dict(height=0.4, tube_diameter=6.0, fittings=0.0)),
    (24.0, dict(tube_diameter=12.0, tube_length=1.6, cold_temperature=33.0)),
    (40.0, dict(height=0.12, tube_diameter=10.0, jacket_loss=0.3, cold_temperature=12.0, room_temperature=26.0)),
    (18.0, dict(fittings=15.0, cold_temperature=2.0, tube_length=0.7)),
]


def at(coefficients, t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(coefficients))


rows = []
for index, (power, changes) in enumerate(SETS):
    p = {**DEFAULTS, **changes}
    cold, d = p["cold_temperature"], p["tube_diameter"] / 1000.0
    section = math.pi * d * d / 4

    def rest(x):
        flow, hot = x[0] / 1000.0, x[1]
        mean = (hot + cold) / 2
        rho, mu = at(RHO, mean), math.exp(at(MU, mean))
        u = flow / (rho * section)
        friction = 32 * mu * p["tube_length"] * u / d**2 + p["fittings"] * rho * u * u / 2
        drive = 9.80665 * p["height"] * (at(RHO, cold) - at(RHO, hot))
        heat = power - p["jacket_loss"] * (mean - p["room_temperature"]) - flow * at(CP, mean) * (hot - cold)
        return [friction - drive, heat]

    (flow, hot), _, good, _ = fsolve(rest, [0.7, cold + 12.0], xtol=1e-13, full_output=True)
    assert good == 1 and np.abs(rest([flow, hot])).max() < 1e-9
    drive = 9.80665 * p["height"] * (at(RHO, cold) - at(RHO, hot))
    text = ";".join(f"{name}={value!r}" for name, value in p.items())
    rows.append([index, text, power, float(hot), float(flow), float(drive)])
keep("thermosiphon.csv", "set,settings,power_W,hot_C,flow_g_s,drive_Pa".split(","), rows, 1e-7)
