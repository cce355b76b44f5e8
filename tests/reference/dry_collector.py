"""The collector without flow by an independent integration.

Written from the equations in the head of src/bench/dry_collector.rs; it shares no code with the program.
Solver: scipy solve_ivp, DOP853 at rtol 1e-12; stagnation by brentq on gain = loss.
"""
import math

from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from stored import keep

# The usual settings of the bench; the test fails if they no longer are.
DEFAULTS = dict(
    lamp_power=150.0, lamp_distance=0.28, lamp_radiant_share=0.85, lamp_gain=10.0, lamp_source_offset=0.02,
    lamp_evenness=0.92, plate_area=0.045, optical_efficiency=0.92, loss_linear=13.0, loss_quadratic=0.02,
    plate_capacity=45.0, wait=600.0, room_temperature=20.0,
)
SETS = [
    {},
    dict(loss_linear=6.0, loss_quadratic=0.05, lamp_distance=0.45, plate_capacity=120.0),
    dict(wait=90.0, lamp_power=250.0, lamp_distance=0.5, loss_quadratic=0.0, room_temperature=31.5),
    dict(plate_area=0.02, plate_capacity=20.0, lamp_evenness=0.7, lamp_source_offset=0.1, wait=30.0),
    dict(lamp_power=80.0, lamp_gain=14.0, optical_efficiency=0.8, loss_linear=22.0, loss_quadratic=0.1, wait=1800.0),
]
SHIFTS = [0.0, 0.05, 0.12, 0.3, 0.7]

rows = []
for index, changes in enumerate(SETS):
    p = {**DEFAULTS, **changes}
    room = p["room_temperature"]
    loss = lambda x: p["plate_area"] * (p["loss_linear"] + p["loss_quadratic"] * abs(x)) * x
    state = [room, 0.0, 0.0]
    for shift in SHIFTS:
        reach = p["lamp_distance"] + shift + p["lamp_source_offset"]
        light = (p["lamp_evenness"] * p["lamp_gain"] * p["lamp_radiant_share"] * p["lamp_power"]
                 / (4 * math.pi * reach ** 2))
        gain = p["plate_area"] * p["optical_efficiency"] * light
        rates = lambda t, y: [(gain - loss(y[0] - room)) / p["plate_capacity"], gain, loss(y[0] - room)]
        solved = solve_ivp(rates, (0.0, p["wait"]), state, method="DOP853", rtol=1e-12, atol=1e-10)
        assert solved.success
        state = [float(value) for value in solved.y[:, -1]]
        stagnation = room + brentq(lambda x: gain - loss(x), 0.0, 1000.0, xtol=1e-13)
        text = ";".join(f"{name}={value!r}" for name, value in p.items())
        rows.append([index, text, shift, *state, light, stagnation])
header = "set,settings,shift_m,plate_C,supplied_J,lost_J,irradiance,stagnation_C".split(",")
keep("dry_collector.csv", header, rows, 1e-7)
