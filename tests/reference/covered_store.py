"""A bare and a covered store by an independent integration.

Written from the equations in the head of src/bench/covered_store.rs; it shares no code with the program.
Solver: scipy solve_ivp before and after the heaters are switched off, DOP853 at rtol 1e-12, confirmed by Radau.
"""
import numpy as np
from scipy.integrate import solve_ivp

from stored import keep

# c_p of water in J/(kg K), a polynomial in t / 100 degC (documented in src/bench/water.rs).
CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]

# The usual settings of the bench; the test fails if they no longer are.
DEFAULTS = dict(
    water_mass=0.2, vessel_capacity=40.0, bare_loss=0.35, cover_thickness=0.01, cover_conductivity=0.04, cover_area=0.03,
    heater_voltage=12.0, heater_current=2.0, heating_time=1200.0, start_excess=0.0, room_temperature=20.0,
)
SETS = [
    {},
    dict(water_mass=0.5, heater_current=3.0, heating_time=1800.0, cover_thickness=0.03, room_temperature=24.0),
    dict(heating_time=0.0, start_excess=60.0, bare_loss=1.0, cover_conductivity=0.3),
    dict(heating_time=86400.0, heater_current=0.5, vessel_capacity=0.0, start_excess=-8.0),
    dict(cover_thickness=0.0, heating_time=700.0, water_mass=0.1, heater_voltage=10.0),
]
TIMES = [60.0, 600.0, 1200.0, 2400.0, 5400.0]


def cp(t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(CP))


def run(p, loss, method):
    room, power, off = p["room_temperature"], p["heater_voltage"] * p["heater_current"], p["heating_time"]
    state, now, out = [room + p["start_excess"], 0.0, 0.0], 0.0, []
    for stop in sorted({*TIMES, *([off] if 0 < off < max(TIMES) else [])}):
        heat = power if now < off else 0.0
        rhs = lambda t, y: [
            (heat - loss * (y[0] - room)) / (p["water_mass"] * cp(y[0]) + p["vessel_capacity"]), heat, loss * (y[0] - room)
        ]
        solved = solve_ivp(rhs, (now, stop), state, method=method, rtol=1e-12, atol=1e-10)
        assert solved.success
        now, state = stop, solved.y[:, -1]
        if stop in TIMES:
            out.append(state)
    return np.array(out)


rows = []
for index, changes in enumerate(SETS):
    p = {**DEFAULTS, **changes}
    layer = p["cover_thickness"] / p["cover_conductivity"] / p["cover_area"]
    covered_loss = p["bare_loss"] / (1 + p["bare_loss"] * layer)
    bare, covered = run(p, p["bare_loss"], "DOP853"), run(p, covered_loss, "DOP853")
    assert np.allclose(bare, run(p, p["bare_loss"], "Radau"), rtol=1e-8, atol=1e-7)
    assert np.allclose(covered, run(p, covered_loss, "Radau"), rtol=1e-8, atol=1e-7)
    text = ";".join(f"{name}={value!r}" for name, value in p.items())
    for time, one, other in zip(TIMES, bare, covered):
        rows.append([index, text, time] + [float(value) for value in (one[0], other[0], one[1], one[2], other[2])])
keep("covered_store.csv", "set,settings,t_s,bare_C,covered_C,supplied_J,bare_lost_J,covered_lost_J".split(","), rows, 1e-7)
