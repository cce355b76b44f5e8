"""Two streams in a tube within a tube, by integration along the tube.

The local balances C_h dT_h = -U dA (T_h - T_c), C_c dT_c = +-U dA (T_h - T_c) are integrated with scipy solve_ivp (DOP853 at rtol
1e-12); in counterflow brentq finds the cold stream's outlet beside the hot inlet. No effectiveness relation is used. Hoses behind
the outlets: see the head of src/bench/exchanger.rs. It shares no code with the program.
"""
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from stored import keep

# c_p of water in J/(kg K), a polynomial in t / 100 degC (documented in src/bench/water.rs).
CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]

# The usual settings of the bench; the test fails if they no longer are.
DEFAULTS = dict(hot_flow=5.0, transfer=20.0, hot_inlet=60.0, cold_inlet=15.0, hose_loss=0.0, room_temperature=20.0)
SETS = [
    {},
    dict(hot_flow=2.0, transfer=40.0, hose_loss=0.3),
    dict(hot_flow=20.0, transfer=5.0, hot_inlet=85.0, cold_inlet=5.0, hose_loss=1.0, room_temperature=30.0),
    dict(hot_flow=10.0, transfer=60.0, hot_inlet=40.0, cold_inlet=28.0),
    dict(hot_flow=0.5, transfer=1.0, hose_loss=0.05),
]
FLOWS = [1.0, 2.0, 5.0, 12.0, 30.0]


def cp(t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(CP))


def along(p, hot, cold, sign, beside):
    """From the hot inlet to the hot outlet, with the cold stream's temperature beside the hot inlet."""
    rhs = lambda a, y: [-p["transfer"] * (y[0] - y[1]) / hot, sign * p["transfer"] * (y[0] - y[1]) / cold]
    return solve_ivp(rhs, (0, 1), [p["hot_inlet"], beside], method="DOP853", rtol=1e-12, atol=1e-12).y[:, -1]


def hose(p, t, rate):
    """The hose's own balance along its length."""
    rhs = lambda a, y: [-p["hose_loss"] * (y[0] - p["room_temperature"]) / rate]
    return solve_ivp(rhs, (0, 1), [t], method="DOP853", rtol=1e-12, atol=1e-12).y[0, -1]


rows = []
for index, changes in enumerate(SETS):
    p = {**DEFAULTS, **changes}
    text = ";".join(f"{name}={value!r}" for name, value in p.items())
    c = cp((p["hot_inlet"] + p["cold_inlet"]) / 2)
    hot = p["hot_flow"] / 1000 * c
    for flow in FLOWS:
        cold = flow / 1000 * c
        miss = lambda beside: along(p, hot, cold, -1, beside)[1] - p["cold_inlet"]
        # Beyond the hot inlet the cold stream cannot get; there its far end lies above its inlet.
        out = brentq(miss, p["cold_inlet"] - 1e-3, p["hot_inlet"], xtol=1e-13, rtol=1e-14)
        counter = (along(p, hot, cold, -1, out)[0], out)
        parallel = tuple(along(p, hot, cold, +1, p["cold_inlet"]))
        values = []
        for end in (counter, parallel):
            values += [hose(p, end[0], hot), hose(p, end[1], cold), hot * (p["hot_inlet"] - end[0])]
        rows.append([index, text, flow] + [float(value) for value in values])
header = "set,settings,cold_flow_g_s,counter_hot_C,counter_cold_C,counter_W,parallel_hot_C,parallel_cold_C,parallel_W"
keep("exchanger.csv", header.split(","), rows, 1e-7)
