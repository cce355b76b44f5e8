"""A thermoelectric module between two stores by an independent integration.

Written from the equations in the head of src/bench/module_stores.rs; it shares no code with the program.
Solver: scipy solve_ivp, DOP853 at rtol 1e-12, confirmed by Radau; limits of the generator by fsolve on the balances.
"""
import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.optimize import fsolve

from stored import keep

# c_p of water in J/(kg K), a polynomial in t / 100 degC (documented in src/bench/water.rs).
CP = np.polynomial.Polynomial([4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912])
DEFAULTS = dict(
    heater_power=30.0, hot_water=0.0, cold_water=0.0, hot_capacity=160.0, cold_capacity=300.0, hot_loss=0.12,
    cold_loss=2.5, seebeck=0.0513, module_resistance=2.0, conductance=0.53, load_resistance=1e7, supply_current=0.0,
    probe_lag=0.0, room_temperature=20.0, hot_start=0.0, cold_start=0.0,
)
SETS = [
    {},
    dict(load_resistance=2.0, probe_lag=8.0, heater_power=40.0, conductance=0.45),
    dict(heater_power=0.0, supply_current=2.0, hot_water=0.1, cold_water=0.1, hot_capacity=40.0, cold_capacity=40.0,
         cold_loss=0.12, probe_lag=5.0),
    dict(heater_power=0.0, hot_water=0.15, cold_water=0.08, cold_loss=0.1, hot_start=50.0, cold_start=-10.0,
         load_resistance=0.0),
    dict(heater_power=10.0, supply_current=0.5, hot_start=-8.0, cold_start=25.0, room_temperature=26.0, probe_lag=20.0,
         hot_loss=0.5, cold_loss=0.5),
]
TIMES = [30.0, 120.0, 600.0, 900.0]
KELVIN = 273.15


class Stores:
    def __init__(self, p):
        self.p = p

    def electric(self, hot, cold):
        p = self.p
        emf = p["seebeck"] * (hot - cold)
        if p["supply_current"] > 0:
            current = -p["supply_current"]
        else:
            current = emf / (p["module_resistance"] + p["load_resistance"])
        return current, emf - current * p["module_resistance"]

    def heats(self, hot, cold):
        p = self.p
        current, _ = self.electric(hot, cold)
        conducted = p["conductance"] * (hot - cold)
        joule = p["module_resistance"] * current ** 2
        return (p["seebeck"] * current * (hot + KELVIN) - joule / 2 + conducted,
                p["seebeck"] * current * (cold + KELVIN) + joule / 2 + conducted)

    def capacity(self, side, t):
        return self.p[side + "_water"] * CP(t / 100) + self.p[side + "_capacity"]

    def rhs(self, _, y):
        p = self.p
        hot, cold, hot_probe, cold_probe = y[:4]
        taken, given = self.heats(hot, cold)
        lost_hot = p["hot_loss"] * (hot - p["room_temperature"])
        lost_cold = p["cold_loss"] * (cold - p["room_temperature"])
        current, voltage = self.electric(hot, cold)
        pumped = p["supply_current"] > 0
        lag = p["probe_lag"]
        return [
            (p["heater_power"] - taken - lost_hot) / self.capacity("hot", hot),
            (given - lost_cold) / self.capacity("cold", cold),
            (hot - hot_probe) / lag if lag else 0.0,
            (cold - cold_probe) / lag if lag else 0.0,
            p["heater_power"] - (voltage * current if pumped else 0.0),
            lost_hot + lost_cold + (0.0 if pumped else voltage * current),
        ]

    def run(self, method):
        room = self.p["room_temperature"]
        hot, cold = room + self.p["hot_start"], room + self.p["cold_start"]
        options = dict(rtol=1e-12, atol=1e-10)
        solved = solve_ivp(self.rhs, (0.0, TIMES[-1]), [hot, cold, hot, cold, 0.0, 0.0], method=method, t_eval=TIMES, **options)
        assert solved.success
        return solved.y.T

    def stored(self, side, start, end):
        return quad(lambda t: self.capacity(side, t), start, end, epsabs=1e-9, epsrel=1e-13)[0]

    def limit(self):
        found = fsolve(lambda y: self.rhs(0, [*y, *y, 0, 0])[:2], [60.0, 30.0], xtol=1e-12)
        assert np.allclose(self.rhs(0, [*found, *found, 0, 0])[:2], 0, atol=1e-10)
        return found


rows = []
for changes in SETS:
    p = {**DEFAULTS, **changes}
    stores = Stores(p)
    states, again = stores.run("DOP853"), stores.run("Radau")
    assert np.allclose(states, again, rtol=1e-8, atol=1e-8), states - again
    text = ";".join(f"{name}={value!r}" for name, value in p.items())
    limits = [] if p["supply_current"] > 0 else stores.limit()
    for time, state in zip(TIMES, states):
        hot, cold, hot_probe, cold_probe, supplied, lost = state
        room = p["room_temperature"]
        stored = (stores.stored("hot", room + p["hot_start"], hot) + stores.stored("cold", room + p["cold_start"], cold))
        assert abs(supplied - stored - lost) < 1e-6 * max(abs(supplied), abs(lost), abs(stored)), (supplied, stored, lost)
        if not p["probe_lag"]:
            hot_probe, cold_probe = hot, cold
        _, voltage = stores.electric(hot, cold)
        taken, given = stores.heats(hot, cold)
        values = dict(hot_temperature=hot, cold_temperature=cold, hot_probe=hot_probe, cold_probe=cold_probe,
                      voltage=voltage, heat_in=taken, heat_out=given, supplied=supplied, lost=lost)
        rows += [["module-stores", text, time, name, float(value)] for name, value in values.items()]
    for name, value in zip(("hot_limit", "cold_limit"), limits):
        rows.append(["module-stores", text, TIMES[-1], name, float(value)])
keep("module_stores.csv", ["bench", "settings", "at", "what", "value"], rows, 1e-7)
