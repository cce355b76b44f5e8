"""The collector in the steady state by an independent solution.

Written from the equations in the head of src/bench/steady_collector.rs; it shares no code with the program. The water is
followed along the plate: the useful heat of each strip is what Hottel, Whillier and Bliss integrate in closed form, with
the loss taken as linear about the plate's mean temperature.
"""
import math

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from stored import keep

# c_p of water in J/(kg K), a polynomial in t / 100 degC (documented in src/bench/water.rs).
CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]
DEFAULTS = dict(
    lamp_power=150.0, lamp_distance=0.30, lamp_radiant_share=0.85, lamp_gain=10.0, lamp_source_offset=0.02,
    lamp_evenness=0.92, plate_area=0.045, optical_efficiency=0.92, loss_linear=13.0, loss_quadratic=0.02,
    plate_transfer=8.0, flow=2.0, inlet_excess=0.0, room_temperature=20.0,
)
SETS = [
    {},
    dict(inlet_excess=35.0, flow=1.0, loss_linear=7.0, loss_quadratic=0.05),
    dict(inlet_excess=12.5, flow=6.0, plate_transfer=2.0, lamp_distance=0.22, room_temperature=27.0),
    dict(inlet_excess=50.0, flow=0.8, plate_area=0.03, optical_efficiency=0.8, loss_linear=20.0),
    dict(inlet_excess=-4.0, flow=12.0, plate_transfer=25.0, loss_quadratic=0.0, lamp_power=260.0, lamp_distance=0.5),
]


def cp(t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(CP))


rows = []
for index, changes in enumerate(SETS):
    p = {**DEFAULTS, **changes}
    room, area = p["room_temperature"], p["plate_area"]
    inlet = room + p["inlet_excess"]
    light = (p["lamp_evenness"] * p["lamp_gain"] * p["lamp_radiant_share"] * p["lamp_power"]
             / (4 * math.pi * (p["lamp_distance"] + p["lamp_source_offset"]) ** 2))
    rate = p["flow"] / 1000.0 * cp(inlet)

    def outlet(mean_plate):
        """Water at the end of the plate, followed strip by strip with the loss linear about `mean_plate`."""
        dt = mean_plate - room
        slope = area * (p["loss_linear"] + 2 * p["loss_quadratic"] * abs(dt))
        loss = area * (p["loss_linear"] + p["loss_quadratic"] * abs(dt)) * dt

        def strip(z, y):
            # Local plate: gain - loss - slope (plate - mean) = transfer (plate - water), all per unit of length.
            gain = area * p["optical_efficiency"] * light
            plate = (gain - loss + slope * mean_plate + p["plate_transfer"] * y[0]) / (slope + p["plate_transfer"])
            return [p["plate_transfer"] * (plate - y[0]) / rate, plate]

        solved = solve_ivp(strip, (0.0, 1.0), [inlet, 0.0], method="DOP853", rtol=1e-12, atol=1e-12)
        return solved.y[0, -1], solved.y[1, -1]

    mean = brentq(lambda plate: outlet(plate)[1] - plate, room - 20.0, room + 200.0, xtol=1e-12)
    end = outlet(mean)[0]
    useful = rate * (end - inlet)
    text = ";".join(f"{name}={value!r}" for name, value in p.items())
    rows.append([index, text] + [float(v) for v in (end, mean, useful, useful / (area * light), light)])
assert np.isfinite([row[2:] for row in rows]).all()
keep("steady_collector.csv", "set,settings,outlet_C,plate_C,useful_W,efficiency,irradiance".split(","), rows, 1e-7)
