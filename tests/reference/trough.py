"""The benches with a trough by an independent calculation.

Written from the equations in the heads of src/bench/mirror.rs and src/bench/trough/*.rs; it shares no code with the program.
The mirror's share is integrated the other way round: for each deviation of a ray the stretches of the mirror from which it
hits are found as roots of quartics (numpy), and their length is averaged over the deviations by scipy quad. Balances by
scipy solve_ivp (DOP853, confirmed by Radau) and brentq; streams are followed along the tube and the plate.
"""
import math

import numpy as np
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from stored import keep

CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]
COMMON = dict(
    irradiance=550.0, aperture=0.28, trough_length=0.25, rim_depth=0.07, reflectance=0.85, spread=12.0, aim_error=0.0,
    along_angle=0.0, tube_diameter=15.0, absorptance=0.9, direct_share=1.0, incidence_coefficient=0.0, tube_loss=15.0,
    tube_loss_quadratic=0.03, room_temperature=20.0,
)
WATER = dict(tube_capacity=15.0, tube_transfer=4.0, water_mass=38.0, end_loss=0.02, probe_lag=8.0, start_excess=0.0)
HEATING = {**COMMON, "tube_offset": 0.0, **WATER}
FOCUS = {**COMMON, "duration": 120.0, **WATER}
AGAINST = {
    **COMMON, "tube_offset": 0.0, "tube_transfer": 6.0, "trough_flow": 1.2, "plate_area": 0.045,
    "plate_optical_efficiency": 0.82, "plate_loss": 7.0, "plate_loss_quadratic": 0.02, "plate_transfer": 8.0,
    "plate_flow": 1.2,
}
SETS = [
    {},
    dict(aim_error=2.0, tube_diameter=10.0, spread=6.0, irradiance=400.0),
    dict(aperture=0.4, rim_depth=0.05, along_angle=30.0, incidence_coefficient=0.1, trough_length=0.4, tube_loss=6.0,
         tube_offset=6.0),
    dict(aim_error=4.0, spread=40.0, direct_share=0.0, tube_loss_quadratic=0.0, room_temperature=28.0),
    dict(rim_depth=0.12, tube_diameter=20.0, irradiance=300.0, reflectance=0.7, spread=25.0, tube_offset=-4.0),
]


def cp(t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(CP))


def enthalpy(t):
    return sum(100.0 * c / (k + 1) * (t / 100.0) ** (k + 1) for k, c in enumerate(CP))


def absorbed(p, offset):
    a, d, w, aim = p["aperture"], p["tube_diameter"] / 1000, p["spread"] / 1000, math.radians(p["aim_error"])
    f = a**2 / (16 * p["rim_depth"])
    s = offset / 1000
    r = np.poly1d([1 / (4 * f), 0, f])
    x = np.poly1d([1, 0])

    def length(delta):
        """Length of the mirror from which a ray that is off by delta hits."""
        cuts = [-a / 2, -d / 2, d / 2, a / 2]
        for side in (1, -1):
            roots = (s * x + delta * r * r - side * d / 2 * r).roots
            cuts += [z.real for z in roots if abs(z.imag) < 1e-9 and abs(z.real) < a / 2]
        cuts.sort()
        total = 0.0
        for low, high in zip(cuts, cuts[1:]):
            middle = (low + high) / 2
            reach = f + middle**2 / (4 * f)
            if abs(middle) > d / 2 and abs(s * middle / reach + delta * reach) <= d / 2:
                total += high - low
        return total

    edges = np.linspace(aim - w, aim + w, 41)
    parts = [quad(length, low, high, epsabs=1e-12, epsrel=1e-9, limit=200)[0] for low, high in zip(edges, edges[1:])]
    gamma_a = sum(parts) / (2 * w)
    along = math.radians(p["along_angle"])
    modifier = max(0.0, 1 - p["incidence_coefficient"] * (1 / math.cos(along) - 1))
    mean_reach = quad(lambda place: r(place), -a / 2, a / 2)[0] / a
    end = max(0.0, 1 - mean_reach * math.tan(along) / p["trough_length"])
    across = p["reflectance"] * gamma_a * math.cos(aim) + p["direct_share"] * d
    return p["irradiance"] * p["trough_length"] * p["absorptance"] * across * math.cos(along) * modifier * end


def surface_loss(area, one, two):
    return lambda excess: area * (one + two * abs(excess)) * excess


def tube_loss(p):
    area = math.pi * p["tube_diameter"] / 1000 * p["trough_length"]
    return area, surface_loss(area, p["tube_loss"], p["tube_loss_quadratic"])


def heat(p, offset, times):
    """Tube, water, probe, supplied, lost at each time."""
    gain, room, mass = absorbed(p, offset), p["room_temperature"], p["water_mass"] / 1000
    _, loss = tube_loss(p)

    def rhs(_, y):
        passed = p["tube_transfer"] * (y[0] - y[1])
        ends = p["end_loss"] * (y[1] - room)
        return [
            (gain - loss(y[0] - room) - passed) / p["tube_capacity"],
            (passed - ends) / (mass * cp(y[1])),
            (y[1] - y[2]) / p["probe_lag"],
            gain,
            loss(y[0] - room) + ends,
        ]

    start = room + p["start_excess"]
    run = lambda method: solve_ivp(
        rhs, (0, times[-1]), [start] * 3 + [0, 0], method=method, t_eval=times, rtol=1e-12, atol=1e-10
    ).y.T
    states = run("DOP853")
    assert np.allclose(states, run("Radau"), rtol=1e-8, atol=1e-8)
    ends = states[-1]
    stored = p["tube_capacity"] * (ends[0] - start) + mass * (enthalpy(ends[1]) - enthalpy(start))
    assert abs(ends[3] - ends[4] - stored) < 1e-6 * ends[3], "ledger"

    def rest(tube):
        water = brentq(lambda t: p["tube_transfer"] * (tube - t) - p["end_loss"] * (t - room), -100, 2000, xtol=1e-12)
        return gain - loss(tube - room) - p["end_loss"] * (water - room)

    return gain, states, brentq(rest, room, 1900, xtol=1e-11)


def stream(gain, area, one, two, transfer, rate, inlet, room):
    """Useful heat of a stream along a surface whose loss is linear about its mean temperature."""
    loss = surface_loss(area, one, two)

    def pass_by(mean):
        slope = area * (one + 2 * two * abs(mean - room))
        level = gain - loss(mean - room) + slope * mean

        def along(_, y):
            wall = (level + transfer * y[0]) / (slope + transfer)
            return [transfer * (wall - y[0]) / rate, wall]

        return solve_ivp(along, (0, 1), [inlet, 0], method="DOP853", rtol=1e-12, atol=1e-12).y[:, -1]

    mean = brentq(lambda m: pass_by(m)[1] - m, inlet - 30, inlet + 200, xtol=1e-11)
    return rate * (pass_by(mean)[0] - inlet)


def text(p):
    return ";".join(f"{name}={value!r}" for name, value in p.items())


heating, focus, against = [], [], []
for index, changes in enumerate(SETS):
    p = {**HEATING, **changes}
    gain, states, limit = heat(p, p["tube_offset"], [30.0, 120.0, 240.0])
    for time, (tube, water, probe, supplied, lost) in zip([30.0, 120.0, 240.0], states):
        heating.append([index, text(p), time] + [float(v) for v in (gain, tube, water, probe, supplied, lost, limit)])
    p = {**FOCUS, **{name: value for name, value in changes.items() if name != "tube_offset"}}
    focal = 1000 * p["aperture"] ** 2 / (16 * p["rim_depth"])
    for height in (0.6 * focal, focal, 1.15 * focal):
        gain, states, _ = heat(p, height - focal, [p["duration"]])
        focus.append([index, text(p), height, float(gain), float(states[-1][1]), float(states[-1][2])])
    p = {**AGAINST, **changes}
    room, along = p["room_temperature"], math.radians(p["along_angle"])
    gain = absorbed(p, p["tube_offset"])
    slant = math.cos(along) * max(0.0, 1 - p["incidence_coefficient"] * (1 / math.cos(along) - 1))
    for excess in (0.0, 25.0, 50.0):
        rate = cp(room + excess) / 1000
        area, _ = tube_loss(p)
        trough = stream(gain, area, p["tube_loss"], p["tube_loss_quadratic"], p["tube_transfer"],
                        rate * p["trough_flow"], room + excess, room)
        plate = stream(p["plate_area"] * p["plate_optical_efficiency"] * p["irradiance"] * slant, p["plate_area"],
                       p["plate_loss"], p["plate_loss_quadratic"], p["plate_transfer"], rate * p["plate_flow"],
                       room + excess, room)
        light = p["irradiance"] * p["aperture"] * p["trough_length"]
        against.append([index, text(p), excess, float(trough), float(plate), float(trough / light),
                        float(plate / p["irradiance"] / p["plate_area"])])
columns = "set,settings,time_s,absorbed_W,tube_C,water_C,probe_C,supplied_J,lost_J,tube_limit_C"
keep("trough.csv", columns.split(","), heating, 1e-7)
keep("trough_focus.csv", "set,settings,height_mm,absorbed_W,water_C,probe_C".split(","), focus, 1e-7)
keep("trough_against_plate.csv", "set,settings,excess_K,trough_W,plate_W,trough_eta,plate_eta".split(","), against, 1e-7)
