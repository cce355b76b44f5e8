"""A bare and a covered plate under a lamp by an independent integration.

Written from the equations in the heads of src/bench/cover_glass.rs, cover.rs, gap.rs, air.rs; it shares no code with the
program. Solver: scipy solve_ivp, DOP853 at rtol 1e-12, confirmed by Radau; limits by fsolve; the share of the light that glass
passes by quad over Planck's law.
"""
import math

import numpy as np
from scipy.constants import Stefan_Boltzmann as SIGMA
from scipy.integrate import quad, solve_ivp
from scipy.optimize import fsolve

from stored import keep

# The usual settings of the bench; the test fails if they no longer are.
DEFAULTS = dict(
    lamp_power=150.0, lamp_distance=0.35, lamp_radiant_share=0.85, lamp_gain=10.0, lamp_source_offset=0.02,
    lamp_evenness=0.92, lamp_warm_up=0.0, filament_temperature=3000.0, plate_area=0.03, plate_capacity=110.0,
    absorptance=0.95, emittance=0.92, convection=5.0, convection_exponent=0.25, back_loss=1.5, glass_thickness=3.0,
    glass_refraction=1.526, glass_extinction=16.0, glass_emittance=0.88, gap=20.0, tilt=45.0, probe_contact=1.0,
    probe_lag=0.0, room_temperature=20.0,
)
SETS = [
    {},
    dict(filament_temperature=5778.0, glass_extinction=4.0, gap=35.0, tilt=30.0, probe_lag=6.0, probe_contact=0.97),
    dict(emittance=0.1, convection=9.0, gap=10.0, lamp_distance=0.45, room_temperature=26.0),
    dict(lamp_warm_up=40.0, glass_thickness=6.0, glass_extinction=32.0, tilt=70.0, convection_exponent=0.0),
    dict(plate_capacity=60.0, plate_area=0.045, back_loss=4.0, lamp_power=100.0, probe_lag=15.0, glass_refraction=1.45),
]
TIMES = [60.0, 300.0, 900.0, 1800.0, 3600.0]
KELVIN = 273.15


def polynomial(coefficients, t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(coefficients))


def air(t):
    """Conductivity, kinematic viscosity, diffusivity, expansion at 0 to 150 degC."""
    k = polynomial([0.024366, 0.00759819, -0.000341213], t)
    mu = polynomial([1.72231e-5, 4.96205e-6, -2.86057e-7], t)
    cp = polynomial([1005.69, 1.45452, 4.03464, 0.0560319], t)
    rho = 101325.0 * 0.0289647 / 8.314462618 / (t + KELVIN)
    return k, mu / rho, k / (rho * cp), 1.0 / (t + KELVIN)


class Covered:
    def __init__(self, p):
        self.p, self.room = p, p["room_temperature"]
        self.light = (p["lamp_evenness"] * p["lamp_gain"] * p["lamp_radiant_share"] * p["lamp_power"]
                      / (4 * math.pi * (p["lamp_distance"] + p["lamp_source_offset"]) ** 2))
        least = 1.438776877e-2 / (2.7e-6 * p["filament_temperature"])
        planck = lambda u: u ** 3 * math.exp(-u) / -math.expm1(-u)
        passed = 15 / math.pi ** 4 * quad(planck, least, 200.0, epsabs=1e-14, epsrel=1e-13, limit=400)[0]
        n, depth = p["glass_refraction"], p["glass_extinction"] * p["glass_thickness"] / 1000
        square = ((n - 1) / (n + 1)) ** 2
        tau_a = math.exp(-depth)
        tau = (1 - square) / (1 + square) * tau_a
        slant = math.radians(60.0)
        inside = math.asin(math.sin(slant) / n)
        r1 = (math.sin(inside - slant) / math.sin(inside + slant)) ** 2
        r2 = (math.tan(inside - slant) / math.tan(inside + slant)) ** 2
        tau_a60 = math.exp(-depth / math.cos(inside))
        below = tau_a60 * (1 - ((1 - r1) / (1 + r1) + (1 - r2) / (1 + r2)) / 2)
        alpha = p["absorptance"]
        self.shares = [alpha, passed * tau * alpha / (1 - (1 - alpha) * below), 1 - passed * tau_a]

    def bright(self, t):
        tau = self.p["lamp_warm_up"]
        return 1.0 - math.exp(-t / tau) if tau > 0 else 1.0

    def outside(self, emittance, t):
        p, dt = self.p, t - self.room
        h = p["convection"] * (abs(dt) / 30.0) ** p["convection_exponent"]
        return p["plate_area"] * (emittance * SIGMA * ((t + KELVIN) ** 4 - (self.room + KELVIN) ** 4) + h * dt)

    def passage(self, plate, glass):
        p = self.p
        k, nu, a, beta = air((plate + glass) / 2)
        width, tilt = p["gap"] / 1000, math.radians(p["tilt"])
        ra = 9.81 * beta * max(plate - glass, 0.0) * width ** 3 / (nu * a) * math.cos(tilt)
        nusselt = 1.0
        if ra > 1708:
            nusselt += 1.44 * (1 - 1708 * math.sin(1.8 * tilt) ** 1.6 / ra) * (1 - 1708 / ra)
            nusselt += max(0.0, (ra / 5830) ** (1 / 3) - 1)
        radiated = SIGMA * ((plate + KELVIN) ** 4 - (glass + KELVIN) ** 4)
        radiated /= 1 / p["emittance"] + 1 / p["glass_emittance"] - 1
        return p["plate_area"] * (nusselt * k / width * (plate - glass) + radiated)

    def nets(self, light, bare, covered, glass):
        p, area = self.p, self.p["plate_area"]
        gains = [area * share * light for share in self.shares]
        backs = [area * p["back_loss"] * (t - self.room) for t in (bare, covered)]
        front, out, through = self.outside(p["emittance"], bare), self.outside(p["glass_emittance"], glass), self.passage(covered, glass)
        nets = [gains[0] - front - backs[0], gains[1] - through - backs[1], gains[2] + through - out]
        return nets, sum(gains), front + sum(backs) + out

    def touched(self, t):
        return self.room + self.p["probe_contact"] * (t - self.room)

    def rhs(self, t, y):
        p = self.p
        nets, supplied, lost = self.nets(self.light * self.bright(t), *y[:3])
        glass = 2500.0 * 750.0 * p["glass_thickness"] / 1000 * p["plate_area"]
        lag = p["probe_lag"]
        probes = [(self.touched(y[i]) - y[3 + i]) / lag if lag else 0.0 for i in (0, 1)]
        return [nets[0] / p["plate_capacity"], nets[1] / p["plate_capacity"], nets[2] / glass] + probes + [supplied, lost]

    def run(self, method):
        start = [self.room] * 5 + [0.0, 0.0]
        solved = solve_ivp(self.rhs, (0.0, max(TIMES)), start, method=method, t_eval=TIMES, rtol=1e-12, atol=1e-10)
        assert solved.success
        return solved.y.T

    def limits(self):
        guess = [self.room + 40, self.room + 60, self.room + 30]
        found = fsolve(lambda y: self.nets(self.light, *y)[0], guess, xtol=1e-12)
        return found


rows = []
for index, changes in enumerate(SETS):
    covered = Covered({**DEFAULTS, **changes})
    states, again = covered.run("DOP853"), covered.run("Radau")
    # Where convection in the gap sets in, the rates have a kink.
    assert np.allclose(states, again, rtol=1e-7, atol=1e-6), (states - again)
    text = ";".join(f"{name}={value!r}" for name, value in {**DEFAULTS, **changes}.items())
    for time, (bare, plate, glass, p1, p2, supplied, lost) in zip(TIMES, states):
        if not covered.p["probe_lag"]:
            p1, p2 = covered.touched(bare), covered.touched(plate)
        values = [bare, plate, glass, p1, p2, supplied, lost, *covered.limits()]
        rows.append([index, text, time] + [float(value) for value in values])
header = ("set,settings,t_s,bare_C,covered_C,glass_C,bare_probe_C,covered_probe_C,supplied_J,lost_J,bare_limit_C,"
          "covered_limit_C,glass_limit_C").split(",")
keep("cover_glass.csv", header, rows, 1e-7)
