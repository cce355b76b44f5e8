"""Vessels of warm water by an independent integration.

Written from the equations in the heads of src/bench/vessel.rs and src/bench/evaporation.rs; it shares no code with the
program. Solver: scipy solve_ivp, DOP853 at rtol 1e-12, confirmed by Radau; limits by brentq on the steady balance.
"""
import math

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from stored import keep

# c_p of water in J/(kg K), a polynomial in t / 100 degC (documented in src/bench/water.rs).
CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]

DEFAULTS = dict(
    water_mass=0.2, vessel_capacity=60.0, wall_area=0.03, film=10.0, layer_thickness=0.0, layer_conductivity=0.04,
    lid_loss=0.02, open_area=0.0, surface_film=6.0, humidity=0.5, heater_voltage=0.0, heater_current=0.0,
    heater_heat_share=1.0, probe_lag=8.0, room_temperature=20.0, start_temperature=80.0,
)
SETS = [
    {},
    dict(layer_thickness=0.02, layer_conductivity=0.036, lid_loss=0.05, water_mass=0.15, probe_lag=20.0),
    dict(open_area=0.005, humidity=0.3, surface_film=8.0, start_temperature=90.0, room_temperature=25.0),
    dict(heater_voltage=12.0, heater_current=4.0, heater_heat_share=0.93, start_temperature=15.0, water_mass=1.2,
         layer_thickness=0.01, vessel_capacity=150.0),
    dict(heater_voltage=12.0, heater_current=1.2, open_area=0.002, start_temperature=40.0, vessel_capacity=0.0, film=15.0),
]
TIMES = [60.0, 300.0, 900.0, 1800.0, 3600.0]


def cp(t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(CP))


def saturation(t):
    return 610.8 * math.exp(17.27 * t / (t + 237.3))


class Vessel:
    def __init__(self, p):
        self.p = p
        self.loss_per_kelvin = p["wall_area"] / (p["layer_thickness"] / p["layer_conductivity"] + 1 / p["film"]) + p["lid_loss"]
        self.power = p["heater_voltage"] * p["heater_current"]

    def loss(self, water):
        room = self.p["room_temperature"]
        vapour = (saturation(water) - self.p["humidity"] * saturation(room)) / 67.4
        open_loss = self.p["open_area"] * self.p["surface_film"] * ((water - room) + vapour)
        return self.loss_per_kelvin * (water - room) + open_loss

    def rhs(self, t, y):
        water, probe = y[0], y[1]
        capacity = self.p["water_mass"] * cp(water) + self.p["vessel_capacity"]
        share = self.p["heater_heat_share"]
        return [
            (share * self.power - self.loss(water)) / capacity,
            (water - probe) / self.p["probe_lag"],
            self.power,
            self.loss(water) + (1 - share) * self.power,
        ]

    def run(self, method):
        start = self.p["start_temperature"]
        solved = solve_ivp(self.rhs, (0.0, max(TIMES)), [start, start, 0.0, 0.0], method=method, t_eval=TIMES,
                           rtol=1e-12, atol=1e-10)
        assert solved.success
        return solved.y.T

    def limit(self):
        return brentq(lambda t: self.p["heater_heat_share"] * self.power - self.loss(t), -20.0, 1000.0, xtol=1e-13)


if __name__ == "__main__":
    rows = []
    for index, changes in enumerate(SETS):
        vessel = Vessel({**DEFAULTS, **changes})
        states, again = vessel.run("DOP853"), vessel.run("Radau")
        assert np.allclose(states, again, rtol=1e-8, atol=1e-8), (states - again)
        assert states[:, 0].max() <= 95.0, states
        text = ";".join(f"{name}={value!r}" for name, value in {**DEFAULTS, **changes}.items())
        for time, state in zip(TIMES, states):
            rows.append([index, text, time] + [float(value) for value in state] + [float(vessel.limit())])
    header = "set,settings,t_s,water_C,probe_C,supplied_J,lost_J,limit_C".split(",")
    keep("vessel.csv", header, rows, 1e-7)
