"""Estimates of bench inputs from readings with noise, by independent fits.

The readings: exact states of the benches, from the independent models beside this script (`pumped_loop`, `vessel`,
`lens_heating`), with inputs off their usual values, normal noise of 0.05 K (numpy `default_rng`) and steps of 0.1 K.
The fit: scipy `curve_fit` (trust region, three-point differences), equal weights, the noise not told, from the bench's
usual values. Standard errors: the roots of the diagonal of s^2 (J^T J)^-1, with s^2 the residual sum of squares over
(readings - parameters); correlation of the two estimates from the same matrix; s is `residual_sd`, in K.
Solver of the balances: DOP853 at rtol 1e-12. Each fit is made again from the true values by `least_squares` as
Levenberg-Marquardt, with wider differences and the balances solved by Radau; the estimates agree within 1e-5 of a
standard error, the matrices within 1e-5.

`bench_fit_settings.csv` holds what is off the usual settings and known; what is fitted is not in it. `loop-long` has
5,000 readings; in the `-correlated` sets the readings answer to the two inputs in nearly the same way.
"""
import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import curve_fit, least_squares

import lens_heating
import pumped_loop
import vessel
from stored import keep

NOISE, DECIMALS = 0.05, 1

UNITS = dict(
    loss_linear="W/(m2 K)", start_excess="K", optical_efficiency="1", film="W/(m2 K)", start_temperature="°C",
    vessel_capacity="J/K", convection="W/(m2 K)", target_capacity="J/K",
)


def solve(rates, start, times, method):
    """DOP853 answers between its steps from a polynomial: short steps keep that as good as the steps."""
    options = dict(DOP853=dict(rtol=1e-12, max_step=30.0), Radau=dict(rtol=1e-10))[method]
    solved = solve_ivp(rates, (0.0, times[-1]), start, method=method, t_eval=times, atol=1e-11, **options)
    assert solved.success
    return solved.y


def loop_water(p, times, method):
    start = p["room_temperature"] + p["start_excess"]
    rates = pumped_loop.Loop(p).rhs
    return solve(lambda t, y: rates(t, y)[:2], [start, start], times, method)[1]


def vessel_probe(p, times, method):
    rates = vessel.Vessel(p).rhs
    return solve(lambda t, y: rates(t, y)[:2], [p["start_temperature"]] * 2, times, method)[1]


def lens_probe(p, times, method):
    targets = lens_heating.Targets(p)
    assert p["light_off"] >= times[-1] and p["probe_lag"] > 0
    start = p["room_temperature"] + p["start_excess"]
    seen = targets.touched(start)
    return solve(targets.rhs(1.0), [start, start, seen, seen, 0.0, 0.0], times, method)[2]


# bench and state, as the program calls them: the model and its usual settings
BENCHES = {
    ("pumped-loop", "water_temperature"): (loop_water, pumped_loop.DEFAULTS),
    ("vessel", "probe_temperature"): (vessel_probe, vessel.DEFAULTS),
    ("lens-heating", "lens_probe_temperature"): (lens_probe, lens_heating.DEFAULTS),
}

LOOP = dict(lamp_distance=0.36, water_mass=0.14, room_temperature=21.4, plate_transfer=6.5)
# name, bench, state, what is fitted with its true value, what else is off the usual, times in s, seed
SETS = [
    ("loop", "pumped-loop", "water_temperature", dict(loss_linear=9.4, start_excess=-1.7), LOOP,
     np.arange(16) * 240.0, 1601),
    ("vessel", "vessel", "probe_temperature", dict(film=12.6, start_temperature=71.3),
     dict(water_mass=0.17, lid_loss=0.06, room_temperature=22.8, probe_lag=14.0), np.arange(21) * 120.0, 2102),
    ("lens", "lens-heating", "lens_probe_temperature", dict(convection=11.3, target_capacity=9.1),
     dict(irradiance=640.0, lens_diameter=0.08, probe_lag=6.0, probe_contact=0.97, room_temperature=24.0),
     np.arange(16) * 45.0, 1603),
    ("loop-long", "pumped-loop", "water_temperature", dict(loss_linear=16.2, start_excess=2.6),
     dict(lamp_distance=0.33, vessel_loss=0.09, flow=3.2, room_temperature=18.6),
     np.round(np.arange(5000) * 0.72, 2), 5004),
    ("loop-correlated", "pumped-loop", "water_temperature", dict(optical_efficiency=0.84, loss_linear=10.8),
     LOOP, np.arange(16) * 75.0, 1605),
    ("vessel-correlated", "vessel", "probe_temperature", dict(vessel_capacity=95.0, film=8.2),
     dict(heater_voltage=12.0, heater_current=3.1, heater_heat_share=0.96, start_temperature=22.0, lid_loss=0.04,
          room_temperature=21.0), np.arange(21) * 90.0, 2106),
]


def covariance(jacobian, rest):
    """s^2 (J^T J)^-1"""
    return rest @ rest / (len(rest) - jacobian.shape[1]) * np.linalg.inv(jacobian.T @ jacobian)


estimates, readings, settings = [], [], []
for name, bench, state, wanted, changes, times, seed in SETS:
    model, usual = BENCHES[bench, state]
    names = list(wanted)

    def predict(values, method="DOP853"):
        return model({**usual, **changes, **dict(zip(names, values))}, times, method)

    true = np.array(list(wanted.values()))
    noise = np.random.default_rng(seed).normal(0.0, NOISE, len(times))
    seen = np.round(predict(true) + noise, DECIMALS)

    # Steps are shares of a value, so a value whose usual one is zero starts at one of its unit.
    first = [usual[key] or 1.0 for key in names]
    options = dict(method="trf", jac="3-point", diff_step=1e-5, x_scale="jac", xtol=1e-14, ftol=1e-14, gtol=1e-14)
    found, matrix = curve_fit(lambda _, *v: predict(v), times, seen, p0=first, absolute_sigma=False, **options)
    error = np.sqrt(np.diag(matrix))
    residual_sd = float(np.sqrt(np.sum((seen - predict(found)) ** 2) / (len(times) - len(names))))

    def slopes(values):
        """Central differences, ten times as wide as those of the first fit."""
        steps = 1e-4 * np.diag(values)
        columns = [(predict(values + h, "Radau") - predict(values - h, "Radau")) / (2 * h.sum()) for h in steps]
        return np.stack(columns, axis=1)

    again = least_squares(lambda v: predict(v, "Radau") - seen, true, jac=slopes, method="lm", xtol=1e-10, ftol=1e-10)
    assert np.all(np.abs(again.x - found) < 1e-5 * error), (name, again.x, found)
    assert np.allclose(covariance(again.jac, again.fun), matrix, rtol=1e-5, atol=0.0), name
    assert np.all(np.abs(found - true) < 4.0 * error), (name, found, true, error)

    correlation = matrix[0, 1] / error.prod()
    for index, key in enumerate(names):
        row = [float(value) for value in (true[index], found[index], error[index], correlation, residual_sd)]
        estimates.append([name, bench, state, key, UNITS[key], *row])
    readings += [[name, float(time), float(value)] for time, value in zip(times, seen)]
    settings += [[name, key, float(value)] for key, value in changes.items()]

header = "set,bench,state,parameter,unit,true,estimate,standard_error,correlation,residual_sd".split(",")
keep("bench_fit.csv", header, estimates, 1e-6)
keep("bench_fit_readings.csv", ["set", "time_s", "reading"], readings, 1e-12)
keep("bench_fit_settings.csv", ["set", "input", "value"], settings, 1e-12)
