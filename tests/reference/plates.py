"""The absorber plates by an independent integration.

Written from the equations in the head of src/bench/plates.rs; it shares no code with the program.
Solver: scipy solve_ivp, DOP853 at rtol 1e-12, confirmed by Radau; limits by brentq; one solve for the light, one for the dark.
"""
import math

import numpy as np
from scipy.constants import Stefan_Boltzmann as SIGMA
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from stored import keep

# The usual settings of the bench; the test fails if they no longer are.
DEFAULTS = dict(
    lamp_power=150.0, lamp_distance=0.35, lamp_radiant_share=0.85, lamp_gain=10.0, lamp_source_offset=0.02,
    lamp_evenness=0.92, lamp_warm_up=0.0, lamp_off=36000.0, plate_area=0.02, plate_capacity=70.0,
    first_absorptance=0.95, first_emittance=0.92, second_absorptance=0.20, second_emittance=0.90, second_light=1.0,
    convection=5.0, convection_exponent=0.25, back_loss=1.5, probe_contact=1.0, probe_lag=0.0, room_temperature=20.0,
    start_excess=0.0,
)
SETS = [
    {},
    dict(lamp_off=600.0, probe_lag=8.0, probe_contact=0.97, second_absorptance=0.15, second_emittance=0.05),
    dict(lamp_warm_up=40.0, lamp_off=150.0, plate_capacity=40.0, convection_exponent=0.0, back_loss=8.0, second_light=0.9),
    dict(start_excess=60.0, lamp_off=0.0, second_emittance=0.04, convection=8.0, probe_lag=20.0),
    dict(lamp_distance=0.5, plate_area=0.035, first_emittance=0.1, convection_exponent=0.3, start_excess=-4.0,
         room_temperature=26.0, lamp_off=700.0),
]
TIMES = [30.0, 150.0, 600.0, 900.0, 1800.0]


class Pair:
    def __init__(self, p):
        self.p = p
        self.room = p["room_temperature"]
        self.light = (p["lamp_evenness"] * p["lamp_gain"] * p["lamp_radiant_share"] * p["lamp_power"]
                      / (4 * math.pi * (p["lamp_distance"] + p["lamp_source_offset"]) ** 2))

    def bright(self, t):
        tau, off = self.p["lamp_warm_up"], self.p["lamp_off"]
        up = (lambda s: 1.0 - math.exp(-s / tau)) if tau > 0 else (lambda s: 1.0)
        if t <= off:
            return up(t)
        return up(off) * math.exp(-(t - off) / tau) if tau > 0 else 0.0

    def gain(self, which, light):
        share = {"first": 1.0, "second": self.p["second_light"]}[which]
        return self.p["plate_area"] * self.p[which + "_absorptance"] * share * light

    def loss(self, which, t):
        p, dt = self.p, t - self.room
        h = p["convection"] * (abs(dt) / 30.0) ** p["convection_exponent"]
        radiated = p[which + "_emittance"] * SIGMA * ((t + 273.15) ** 4 - (self.room + 273.15) ** 4)
        return p["plate_area"] * (radiated + (h + p["back_loss"]) * dt)

    def touched(self, t):
        return self.room + self.p["probe_contact"] * (t - self.room)

    def rhs(self, light):
        lag, c = self.p["probe_lag"], self.p["plate_capacity"]

        def rates(t, y):
            g = self.light * light(t)
            gains = [self.gain(w, g) for w in ("first", "second")]
            losses = [self.loss(w, v) for w, v in zip(("first", "second"), y)]
            probes = [(self.touched(y[i]) - y[2 + i]) / lag if lag else 0.0 for i in (0, 1)]
            return [(gains[i] - losses[i]) / c for i in (0, 1)] + probes + [sum(gains), sum(losses)]

        return rates

    def run(self, method):
        off, start = self.p["lamp_off"], self.room + self.p["start_excess"]
        y, out = [start, start, self.touched(start), self.touched(start), 0.0, 0.0], []
        options = dict(method=method, rtol=1e-12, atol=1e-10)
        lit = [t for t in TIMES if t <= off]
        end = min(off, max(TIMES))
        if end > 0:
            solved = solve_ivp(self.rhs(self.bright), (0.0, end), y, dense_output=False,
                               t_eval=sorted(set(lit + [end])), **options)
            assert solved.success
            out = [s for t, s in zip(solved.t, solved.y.T) if t in lit]
            y = solved.y[:, -1]
        dark = [t for t in TIMES if t > off]
        if dark:
            # Just after the end the lamp glows on with the brightness it had.
            after = lambda t: self.bright(max(t, math.nextafter(off, math.inf)))
            solved = solve_ivp(self.rhs(after), (off, max(dark)), y, t_eval=dark, **options)
            assert solved.success
            out += list(solved.y.T)
        return np.array(out)

    def limit(self, which):
        rest = lambda t: self.gain(which, self.light) - self.loss(which, t)
        return brentq(rest, self.room, 500.0, xtol=1e-13)


rows = []
for index, changes in enumerate(SETS):
    pair = Pair({**DEFAULTS, **changes})
    states, again = pair.run("DOP853"), pair.run("Radau")
    assert np.allclose(states, again, rtol=1e-8, atol=1e-7), (states - again)
    text = ";".join(f"{name}={value!r}" for name, value in {**DEFAULTS, **changes}.items())
    for time, (first, second, p1, p2, supplied, lost) in zip(TIMES, states):
        if not pair.p["probe_lag"]:
            p1, p2 = pair.touched(first), pair.touched(second)
        values = [first, second, p1, p2, supplied, lost, pair.limit("first"), pair.limit("second")]
        rows.append([index, text, time] + [float(value) for value in values])
header = ("set,settings,t_s,first_C,second_C,first_probe_C,second_probe_C,supplied_J,lost_J,first_limit_C,"
          "second_limit_C").split(",")
keep("plates.csv", header, rows, 1e-7)
