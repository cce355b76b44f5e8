"""A hot body in a calorimeter by an independent integration.

Written from the equations in the head of src/bench/calorimeter.rs; it shares no code with the program.
Solver: scipy solve_ivp, DOP853 at rtol 1e-12 before and after the body is put in, confirmed by Radau.
"""
import numpy as np
from scipy.integrate import solve_ivp

from stored import keep

# c_p of water in J/(kg K), a polynomial in t / 100 degC (documented in src/bench/water.rs).
CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]

DEFAULTS = dict(
    water_mass=0.15, calorimeter_capacity=60.0, loss=0.05, body_mass=0.2, body_heat_capacity=450.0,
    body_temperature=95.0, transfer=8.0, entry_time=120.0, probe_lag=5.0, room_temperature=20.0, start_temperature=18.0,
)
SETS = [
    {},
    dict(body_heat_capacity=897.0, body_mass=0.1, transfer=20.0, loss=0.2),
    dict(entry_time=0.0, calorimeter_capacity=0.0, water_mass=0.3, transfer=3.0),
    dict(start_temperature=60.0, body_temperature=30.0, body_heat_capacity=384.0, body_mass=0.4, probe_lag=20.0),
    dict(entry_time=300.0, body_heat_capacity=4180.0, body_mass=0.1, transfer=50.0, room_temperature=25.0),
]
TIMES = [60.0, 150.0, 240.0, 420.0, 900.0]


def cp(t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(CP))


def run(p, method):
    def rhs(inside):
        def rates(t, y):
            water, probe, body, _ = y
            passed = p["transfer"] * (body - water) if inside else 0.0
            lost = p["loss"] * (water - p["room_temperature"])
            return [
                (passed - lost) / (p["water_mass"] * cp(water) + p["calorimeter_capacity"]),
                (water - probe) / p["probe_lag"],
                -passed / (p["body_mass"] * p["body_heat_capacity"]),
                lost,
            ]
        return rates

    state = np.array([p["start_temperature"], p["start_temperature"], p["body_temperature"], 0.0])
    results, entry = {}, p["entry_time"]
    before = [time for time in TIMES if time < entry]
    if entry > 0:
        solved = solve_ivp(rhs(False), (0, entry), state, method=method, t_eval=before + [entry], rtol=1e-12, atol=1e-10)
        results.update(zip(before, solved.y.T))
        state = solved.y.T[-1]
    after = [time for time in TIMES if time >= entry]
    solved = solve_ivp(rhs(True), (entry, max(TIMES)), state, method=method, t_eval=after, rtol=1e-12, atol=1e-10)
    results.update(zip(after, solved.y.T))
    return np.array([results[time] for time in TIMES])


rows = []
for index, changes in enumerate(SETS):
    p = {**DEFAULTS, **changes}
    states, again = run(p, "DOP853"), run(p, "Radau")
    assert np.allclose(states, again, rtol=1e-8, atol=1e-8), (states - again)
    text = ";".join(f"{name}={value!r}" for name, value in p.items())
    for time, state in zip(TIMES, states):
        rows.append([index, text, time] + [float(value) for value in state])
header = "set,settings,t_s,water_C,probe_C,body_C,lost_J".split(",")
keep("calorimeter.csv", header, rows, 1e-7)
