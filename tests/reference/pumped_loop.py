"""The pumped collector loop by an independent integration.

Written from the equations in the head of src/bench/pumped_loop.rs; it shares no code with the program.
Solver: scipy solve_ivp, DOP853 at rtol 1e-12, confirmed by Radau; limits by brentq on the steady balances.
"""
import math

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from stored import keep

# c_p of water in J/(kg K), a polynomial in t / 100 degC (documented in src/bench/water.rs).
CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]

# The usual settings of the bench; the test fails if they no longer are.
DEFAULTS = dict(
    lamp_power=150.0, lamp_distance=0.30, lamp_radiant_share=0.85, lamp_gain=10.0, lamp_source_offset=0.02,
    lamp_evenness=0.92, lamp_warm_up=0.0, plate_area=0.045, optical_efficiency=0.92, loss_linear=13.0,
    loss_quadratic=0.05, plate_capacity=60.0, plate_transfer=8.0, water_mass=0.15, vessel_capacity=40.0,
    vessel_loss=0.12, flow=5.0, pump_voltage=7.5, pump_current=0.22, pump_heat_share=0.8, room_temperature=20.0,
    start_excess=0.0,
)
SETS = [
    {},
    dict(water_mass=0.1, loss_linear=6.0, loss_quadratic=0.02, lamp_distance=0.4, room_temperature=24.0),
    dict(flow=1.0, plate_transfer=3.0, plate_capacity=20.0, lamp_warm_up=25.0),
    dict(water_mass=0.3, plate_area=0.03, start_excess=-4.0, pump_current=0.5, vessel_loss=0.2, vessel_capacity=0.0),
    dict(flow=10.0, plate_transfer=30.0, loss_quadratic=0.0, pump_heat_share=0.0, start_excess=50.0, lamp_warm_up=40.0),
]
TIMES = [60.0, 300.0, 900.0, 1800.0, 3600.0]


def cp(t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(CP))


class Loop:
    def __init__(self, p):
        self.p = p
        self.light = (p["lamp_evenness"] * p["lamp_gain"] * p["lamp_radiant_share"] * p["lamp_power"]
                      / (4 * math.pi * (p["lamp_distance"] + p["lamp_source_offset"]) ** 2))
        self.heat = p["pump_heat_share"] * p["pump_voltage"] * p["pump_current"]

    def irradiance(self, t):
        tau = self.p["lamp_warm_up"]
        return self.light * (1.0 - math.exp(-t / tau)) if tau > 0 else self.light

    def plate_loss(self, plate):
        dt = plate - self.p["room_temperature"]
        return self.p["plate_area"] * (self.p["loss_linear"] + self.p["loss_quadratic"] * abs(dt)) * dt

    def rate(self, water):
        return self.p["flow"] / 1000.0 * cp(water)

    def passed(self, plate, water):
        """Q solves Q = F_R (Q + L (T_p - T_w)), the plate's even net heat being Q."""
        dt = abs(plate - self.p["room_temperature"])
        slope = self.p["plate_area"] * (self.p["loss_linear"] + 2 * self.p["loss_quadratic"] * dt)
        mc = self.rate(water)
        local = 1.0 / (1.0 + slope / self.p["plate_transfer"])
        removal = mc / slope * (1.0 - math.exp(-local * slope / mc))
        return removal * slope * (plate - water) / (1.0 - removal)

    def vessel_loss(self, water):
        return self.p["vessel_loss"] * (water - self.p["room_temperature"])

    def rhs(self, t, y):
        plate, water = y[0], y[1]
        gain = self.p["plate_area"] * self.p["optical_efficiency"] * self.irradiance(t)
        passed = self.passed(plate, water)
        return [
            (gain - self.plate_loss(plate) - passed) / self.p["plate_capacity"],
            (passed + self.heat - self.vessel_loss(water)) / (self.p["water_mass"] * cp(water) + self.p["vessel_capacity"]),
            gain + self.heat,
            self.plate_loss(plate) + self.vessel_loss(water),
        ]

    def run(self, method):
        start = self.p["room_temperature"] + self.p["start_excess"]
        options = dict(rtol=1e-12, atol=1e-10)
        solved = solve_ivp(self.rhs, (0.0, max(TIMES)), [start, start, 0.0, 0.0], method=method, t_eval=TIMES, **options)
        assert solved.success
        return solved.y.T

    def limit(self):
        """Water temperature for each plate from the vessel's balance, then the plate's balance."""
        def water_of(plate):
            rest = lambda water: self.passed(plate, water) + self.heat - self.vessel_loss(water)
            return brentq(rest, -50.0, 150.0, xtol=1e-13)

        gain = self.p["plate_area"] * self.p["optical_efficiency"] * self.light
        rest = lambda plate: gain - self.plate_loss(plate) - self.passed(plate, water_of(plate))
        plate = brentq(rest, self.p["room_temperature"], 110.0, xtol=1e-13)
        return plate, water_of(plate)


if __name__ == "__main__":
    rows = []
    for index, changes in enumerate(SETS):
        loop = Loop({**DEFAULTS, **changes})
        states, again = loop.run("DOP853"), loop.run("Radau")
        assert np.allclose(states, again, rtol=1e-8, atol=1e-8), (states - again)
        limits = loop.limit()
        text = ";".join(f"{name}={value!r}" for name, value in {**DEFAULTS, **changes}.items())
        for time, (plate, water, supplied, lost) in zip(TIMES, states):
            outlet = water + loop.passed(plate, water) / loop.rate(water)
            values = [plate, water, outlet, supplied, lost, *limits]
            rows.append([index, text, time] + [float(value) for value in values])
    header = "set,settings,t_s,plate_C,water_C,outlet_C,supplied_J,lost_J,plate_limit_C,water_limit_C".split(",")
    keep("pumped_loop.csv", header, rows, 1e-7)
