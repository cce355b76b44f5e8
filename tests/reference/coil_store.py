"""The store with a coil by an independent integration.

Written from the equations in the head of src/bench/coil_store.rs; it shares no code with the program.
Solver: scipy solve_ivp, DOP853 at rtol 1e-12, confirmed by Radau.
"""
import math

import numpy as np
from scipy.integrate import solve_ivp

from stored import keep

# c_p of water in J/(kg K), a polynomial in t / 100 degC (documented in src/bench/water.rs).
CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]

# The usual settings of the bench; the test fails if they no longer are.
DEFAULTS = dict(
    flow=3.0, coil_transfer=8.0, source_mass=1.5, source_capacity=100.0, source_loss=0.3, source_excess=40.0,
    heater_power=0.0, store_mass=0.25, store_capacity=40.0, store_loss=0.12, store_excess=0.0, room_temperature=20.0,
    probe_lag=0.0,
)
SETS = [
    {},
    dict(flow=12.0, coil_transfer=3.0, source_mass=0.3, probe_lag=15.0, room_temperature=24.0),
    dict(flow=0.5, coil_transfer=15.0, heater_power=200.0, source_excess=10.0, store_loss=0.5),
    dict(source_excess=0.0, store_excess=55.0, store_mass=1.0, source_loss=1.0, source_capacity=0.0),
    dict(source_mass=5.0, store_mass=0.05, store_capacity=0.0, probe_lag=60.0, store_excess=-8.0, flow=8.0),
]
TIMES = [30.0, 120.0, 300.0, 900.0, 1500.0]


def cp(t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(CP))


def run(p, method):
    room = p["room_temperature"]

    def coil(hot, store):
        rate = p["flow"] / 1000 * cp((hot + store) / 2)
        share = 1 - math.exp(-p["coil_transfer"] / rate)
        return rate, share

    def rhs(t, y):
        hot, store, probe, _ = y
        rate, share = coil(hot, store)
        passed = rate * share * (hot - store)
        lost_hot, lost_store = p["source_loss"] * (hot - room), p["store_loss"] * (store - room)
        return [
            (p["heater_power"] - passed - lost_hot) / (p["source_mass"] * cp(hot) + p["source_capacity"]),
            (passed - lost_store) / (p["store_mass"] * cp(store) + p["store_capacity"]),
            (store - probe) / p["probe_lag"] if p["probe_lag"] else 0.0,
            lost_hot + lost_store,
        ]

    hot, store = room + p["source_excess"], room + p["store_excess"]
    solved = solve_ivp(rhs, (0, max(TIMES)), [hot, store, store, 0.0], method=method, t_eval=TIMES, rtol=1e-12, atol=1e-10)
    assert solved.success
    out = []
    for hot, store, probe, lost in solved.y.T:
        rate, share = coil(hot, store)
        out.append([store, probe if p["probe_lag"] else store, hot, hot - share * (hot - store), rate * share * (hot - store), lost])
    return np.array(out)


rows = []
for index, changes in enumerate(SETS):
    settings = {**DEFAULTS, **changes}
    states, again = run(settings, "DOP853"), run(settings, "Radau")
    assert np.allclose(states, again, rtol=1e-8, atol=1e-7), (states - again)
    text = ";".join(f"{name}={value!r}" for name, value in settings.items())
    for time, values in zip(TIMES, states):
        rows.append([index, text, time] + [float(value) for value in values])
keep("coil_store.csv", "set,settings,t_s,store_C,probe_C,inlet_C,return_C,passed_W,lost_J".split(","), rows, 1e-7)
