"""Two targets in sunlight, one in the spot of a lens, by an independent integration.

Written from the equations in the head of src/bench/lens_heating.rs; it shares no code with the program.
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
    irradiance=700.0, source_half_angle=0.00465, lens_diameter=0.09, focal_length=0.15, lens_transmittance=0.75,
    lens_blur=0.006, defocus=0.0, target_diameter=0.04, target_capacity=6.0, absorptance=0.95, emittance=0.92,
    convection=8.0, convection_exponent=0.25, probe_contact=1.0, probe_lag=0.0, room_temperature=20.0,
    start_excess=0.0, light_off=36000.0,
)
SETS = [
    {},
    dict(target_diameter=0.025, lens_diameter=0.12, lens_blur=0.01, probe_lag=5.0, probe_contact=0.96, light_off=400.0),
    dict(defocus=0.03, target_capacity=40.0, convection_exponent=0.0, convection=15.0, start_excess=30.0),
    dict(source_half_angle=0.04, focal_length=0.3, irradiance=200.0, emittance=0.1, start_excess=-4.0),
    dict(light_off=0.0, start_excess=90.0, target_capacity=2.0, probe_lag=20.0, room_temperature=5.0),
]
TIMES = [30.0, 150.0, 600.0, 900.0, 1800.0]


class Targets:
    def __init__(self, p):
        self.p, self.room = p, p["room_temperature"]
        f = p["focal_length"]
        x = f + p["defocus"]
        cone = p["lens_diameter"] * (1 - x / f)
        spread = 2 * x * math.tan(p["source_half_angle"]) + p["lens_blur"] * x / f
        self.spot = math.sqrt(cone ** 2 + spread ** 2)
        lens = math.pi / 4 * p["lens_diameter"] ** 2
        self.area = math.pi / 4 * p["target_diameter"] ** 2
        caught = 1 - math.exp(-2 * (p["target_diameter"] / self.spot) ** 2)
        power = p["lens_transmittance"] * lens * p["irradiance"]
        self.gains = [p["absorptance"] * caught * power, p["absorptance"] * self.area * p["irradiance"]]

    def loss(self, t):
        p, dt = self.p, t - self.room
        h = p["convection"] * (abs(dt) / 30.0) ** p["convection_exponent"]
        return 2 * self.area * (p["emittance"] * SIGMA * ((t + 273.15) ** 4 - (self.room + 273.15) ** 4) + h * dt)

    def touched(self, t):
        return self.room + self.p["probe_contact"] * (t - self.room)

    def rhs(self, share):
        lag, c = self.p["probe_lag"], self.p["target_capacity"]

        def rates(t, y):
            gains = [share * g for g in self.gains]
            losses = [self.loss(v) for v in y[:2]]
            probes = [(self.touched(y[i]) - y[2 + i]) / lag if lag else 0.0 for i in (0, 1)]
            return [(gains[i] - losses[i]) / c for i in (0, 1)] + probes + [sum(gains), sum(losses)]

        return rates

    def run(self, method):
        off, start = self.p["light_off"], self.room + self.p["start_excess"]
        y, out, options = [start, start, self.touched(start), self.touched(start), 0.0, 0.0], [], {}
        options = dict(method=method, rtol=1e-12, atol=1e-10)
        end = min(off, max(TIMES))
        lit, dark = [t for t in TIMES if t <= off], [t for t in TIMES if t > off]
        if end > 0:
            solved = solve_ivp(self.rhs(1.0), (0.0, end), y, t_eval=sorted(set(lit + [end])), **options)
            assert solved.success
            out, y = [s for t, s in zip(solved.t, solved.y.T) if t in lit], solved.y[:, -1]
        if dark:
            solved = solve_ivp(self.rhs(0.0), (off, max(dark)), y, t_eval=dark, **options)
            assert solved.success
            out += list(solved.y.T)
        return np.array(out)

    def limit(self, which):
        return brentq(lambda t: self.gains[which] - self.loss(t), self.room, 900.0, xtol=1e-13)


if __name__ == "__main__":
    rows = []
    for index, changes in enumerate(SETS):
        targets = Targets({**DEFAULTS, **changes})
        states, again = targets.run("DOP853"), targets.run("Radau")
        assert np.allclose(states, again, rtol=1e-8, atol=1e-7), (states - again)
        text = ";".join(f"{name}={value!r}" for name, value in {**DEFAULTS, **changes}.items())
        for time, (first, second, p1, p2, supplied, lost) in zip(TIMES, states):
            if not targets.p["probe_lag"]:
                p1, p2 = targets.touched(first), targets.touched(second)
            values = [first, second, p1, p2, targets.spot, supplied, lost, targets.limit(0), targets.limit(1)]
            rows.append([index, text, time] + [float(value) for value in values])
    header = ("set,settings,t_s,lens_C,bare_C,lens_probe_C,bare_probe_C,spot_m,supplied_J,lost_J,lens_limit_C,"
              "bare_limit_C").split(",")
    keep("lens_heating.csv", header, rows, 1e-7)
