"""The pumped collector loop by an independent integration.

Written from the equations in the head of src/bench/pumped_loop.rs; it shares no code with the program.
Solver: scipy solve_ivp, method Radau, rtol 1e-12.
"""
import math

import numpy as np
from scipy.integrate import solve_ivp

from stored import keep

# c_p of water in J/(kg K), a polynomial in t / 100 degC (documented in src/bench/water.rs).
CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]

DEFAULTS = dict(
    lamp_power=150.0, lamp_distance=0.30, lamp_radiant_share=0.85, lamp_gain=10.0, lamp_source_offset=0.02,
    lamp_evenness=0.92, plate_area=0.045, optical_efficiency=0.92, loss_linear=13.0, loss_quadratic=0.05,
    plate_capacity=60.0, plate_transfer=8.0, water_mass=0.15, vessel_capacity=40.0, vessel_loss=0.12, flow=5.0,
    pump_voltage=7.5, pump_current=0.22, pump_heat_share=0.8, room_temperature=20.0, start_excess=0.0,
)
SETS = [
    {},
    dict(water_mass=0.1, loss_linear=6.0, loss_quadratic=0.02, lamp_distance=0.4, room_temperature=24.0),
    dict(flow=1.0, plate_transfer=3.0, plate_capacity=20.0),
    dict(water_mass=0.3, plate_area=0.03, start_excess=-4.0, pump_current=0.5, vessel_loss=0.2),
    dict(flow=10.0, plate_transfer=30.0, plate_capacity=10.0, loss_quadratic=0.0, pump_heat_share=0.0, start_excess=12.0),
]
TIMES = [60.0, 300.0, 900.0, 1800.0, 3600.0]


def cp(t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(CP))


def run(p):
    g = (p["lamp_evenness"] * p["lamp_gain"] * p["lamp_radiant_share"] * p["lamp_power"]
         / (4 * math.pi * (p["lamp_distance"] + p["lamp_source_offset"]) ** 2))
    ta = p["room_temperature"]
    heat = p["pump_heat_share"] * p["pump_voltage"] * p["pump_current"]

    def rhs(_, y):
        plate, water = y[0], y[1]
        rate = p["flow"] / 1000.0 * cp(water)
        passed = rate * (1.0 - math.exp(-p["plate_transfer"] / rate)) * (plate - water)
        dt = plate - ta
        loss = p["plate_area"] * (p["loss_linear"] + p["loss_quadratic"] * abs(dt)) * dt
        gain = p["plate_area"] * p["optical_efficiency"] * g
        vessel = p["vessel_loss"] * (water - ta)
        return [
            (gain - loss - passed) / p["plate_capacity"],
            (passed + heat - vessel) / (p["water_mass"] * cp(water) + p["vessel_capacity"]),
            gain + heat,
            loss + vessel,
        ]

    start = ta + p["start_excess"]
    end = max(TIMES)
    solved = solve_ivp(rhs, (0.0, end), [start, start, 0.0, 0.0], method="Radau", t_eval=TIMES, rtol=1e-12, atol=1e-11)
    assert solved.success
    return solved.y.T


rows = []
for index, changes in enumerate(SETS):
    parameters = {**DEFAULTS, **changes}
    text = ";".join(f"{name}={value!r}" for name, value in changes.items())
    for time, state in zip(TIMES, run(parameters)):
        rows.append([index, text, time] + [float(value) for value in state])
keep("pumped_loop.csv", ["set", "changes", "t_s", "plate_C", "water_C", "supplied_J", "lost_J"], rows, 1e-8)
