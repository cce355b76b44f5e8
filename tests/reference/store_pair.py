"""Paraffin and water that cool side by side, by an independent integration.

Written from the equations in the head of src/bench/store_pair.rs; it shares no code with the program. The paraffin is that of
paraffin_store.py without a heater; the water is integrated with scipy solve_ivp (DOP853 at rtol 1e-12).
"""
import numpy as np
from scipy.integrate import solve_ivp

import paraffin_store
from stored import keep

# c_p of water in J/(kg K), a polynomial in t / 100 degC (documented in src/bench/water.rs).
CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]

# The usual settings of the bench; the test fails if they no longer are.
DEFAULTS = dict(
    paraffin_mass=0.08, water_mass=0.08, melting_temperature=55.0, melting_range=2.0, latent_heat=180.0,
    solid_heat_capacity=2100.0, liquid_heat_capacity=2300.0, supercooling=0.0, vessel_capacity=20.0, loss=0.4,
    room_temperature=20.0, start_temperature=70.0,
)
SETS = [
    {},
    dict(supercooling=2.0, melting_range=4.0, water_mass=0.2, room_temperature=24.0),
    dict(melting_range=0.0, melting_temperature=45.0, loss=0.6, start_temperature=90.0, vessel_capacity=0.0),
    dict(start_temperature=40.0, paraffin_mass=0.2, loss=0.05),
    dict(latent_heat=250.0, paraffin_mass=0.02, water_mass=0.02, supercooling=3.0, loss=0.2, room_temperature=5.0),
]
TIMES = [60.0, 300.0, 900.0, 1800.0, 3600.0]


def cp(t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(CP))


rows = []
for index, changes in enumerate(SETS):
    p = {**DEFAULTS, **changes}
    heated = {**paraffin_store.DEFAULTS, **{name: value for name, value in p.items() if name in paraffin_store.DEFAULTS}}
    heated.update(heater_voltage=0.0, start_excess=p["start_temperature"] - p["room_temperature"])
    wax, again = (paraffin_store.Store(heated).run(method, TIMES) for method in ("DOP853", "Radau"))
    assert np.allclose(wax, again, rtol=1e-8, atol=1e-7), (wax - again)

    def rhs(t, y):
        lost = p["loss"] * (y[0] - p["room_temperature"])
        return [-lost / (p["water_mass"] * cp(y[0]) + p["vessel_capacity"]), lost]

    water = solve_ivp(rhs, (0, max(TIMES)), [p["start_temperature"], 0.0], "DOP853", TIMES, rtol=1e-12, atol=1e-10).y.T
    text = ";".join(f"{name}={value!r}" for name, value in p.items())
    for time, one, other in zip(TIMES, wax, water):
        rows.append([index, text, time] + [float(value) for value in (one[1], other[0], one[3], one[6], other[1])])
keep("store_pair.csv", "set,settings,t_s,paraffin_C,water_C,molten,paraffin_J,water_J".split(","), rows, 1e-7)
