"""Steady benches with a circuit: divider, pump with its motor, module with a load, module with a motor.

Written from the equations in the heads of src/bench/loaded_divider.rs, pump_drive.rs, module_load.rs, module_motor.rs; it
shares no code with the program. The divider by node potentials (numpy), the others by scipy's root finders on all
unknowns at once, where the program reduces them to one.
"""
import numpy as np
from scipy.optimize import brentq, fsolve

from stored import keep

G, KELVIN = 9.80665, 273.15
# Density of water in kg/m3, a polynomial in t / 100 degC (documented in src/bench/water.rs).
RHO = np.polynomial.Polynomial([999.8459, 6.566951, -87.58744, 82.17275, -73.42178, 40.91129, -10.14159])


def divider(p, x):
    """Potential of the slider from Kirchhoff's current law; conductances to the supply and to the ground."""
    up, down = (1 - x) * p["track_resistance"], x * p["track_resistance"]
    others = 1 / p["voltmeter_resistance"], 1 / p["load_resistance"]
    def node(sides):
        matrix = np.array([[1 / up + 1 / down + sum(sides), -1 / up], [-1 / up, 1 / up]])
        # Second unknown row: the supply's node is held, its current is what the row gives.
        slider = matrix[0, 1] * -p["supply_voltage"] / matrix[0, 0]
        return slider, matrix[1] @ np.array([slider, p["supply_voltage"]])
    free, _ = node(others[:1])
    voltage, current = node(others)
    return dict(unloaded_voltage=free, loaded_voltage=voltage, supply_current=current,
                load_power=voltage ** 2 / p["load_resistance"],
                track_heat=p["supply_voltage"] * current - voltage ** 2 * sum(others))


def pump(p, voltage):
    r, k, m0, c = p["motor_resistance"], p["motor_constant"], p["friction_torque"] / 1e3, p["rotor_coefficient"]
    balance = lambda w: k * (voltage - k * w) / r - m0 - c * w * w
    speed = brentq(balance, 0.0, voltage / k, xtol=1e-13, rtol=1e-15) if balance(0.0) > 0 else 0.0
    lift = RHO(p["water_temperature"] / 100) * G * p["lift"]
    head = p["pressure_coefficient"] * speed ** 2
    line = lambda q: lift + p["laminar_resistance"] * q + p["turbulent_resistance"] * q * q - head
    flow = brentq(line, 0.0, 1e3, xtol=1e-14, rtol=1e-15) if head > lift else 0.0
    w0 = np.sqrt(lift / p["pressure_coefficient"])
    start = k * w0 + r * (m0 + c * w0 ** 2) / k
    return dict(speed=speed, current=(voltage - k * speed) / r, volume_flow=flow, lifting_power=lift * flow * 1e-6,
                starting_voltage=start)


def faces(p, current_of):
    a, r, kk = p["seebeck"], p["module_resistance"], p["conductance"]
    source, sink = p["source_temperature"] + KELVIN, p["sink_temperature"] + KELVIN

    def rest(y):
        hot, cold = y
        i = current_of(hot - cold)
        taken = a * i * hot - i * i * r / 2 + kk * (hot - cold)
        given = a * i * cold + i * i * r / 2 + kk * (hot - cold)
        return [source - p["hot_resistance"] * taken - hot, sink + p["cold_resistance"] * given - cold]
    hot, cold = fsolve(rest, [source, sink], xtol=1e-12)
    assert np.allclose(rest([hot, cold]), 0, atol=1e-9)
    i = current_of(hot - cold)
    return hot, cold, i, a * i * hot - i * i * r / 2 + kk * (hot - cold)


def module(p, load):
    hot, cold, i, taken = faces(p, lambda d: p["seebeck"] * d / (p["module_resistance"] + load))
    return dict(hot_face=hot - KELVIN, cold_face=cold - KELVIN, current=i, voltage=i * load, power=i * i * load,
                heat_in=taken, efficiency=i * i * load / taken)


def winch(p, load):
    radius, k = p["drum_radius"] / 1e3, p["motor_constant"]
    weight = load / 1e3 * G
    current = (p["friction_torque"] / 1e3 + weight * radius) / k
    hot, cold, _, taken = faces(p, lambda _: current)
    voltage = p["seebeck"] * (hot - cold) - current * p["module_resistance"]
    speed = (voltage - current * p["motor_resistance"]) / k
    return dict(hot_face=hot - KELVIN, voltage=voltage, current=current, speed=speed,
                lift_time=p["height"] / (speed * radius), lifting_power=weight * speed * radius, heat_in=taken)


MODULE = dict(hot_resistance=0.6, cold_resistance=0.6, seebeck=0.0513, module_resistance=2.0, conductance=0.53)
BENCHES = {
    "loaded-divider": (divider, [0.05, 0.3, 0.5, 0.95], dict(
        supply_voltage=9.0, track_resistance=100.0, load_resistance=50.0, voltmeter_resistance=1e7), [
        {}, dict(supply_voltage=12.0, load_resistance=10.0), dict(track_resistance=1e4, voltmeter_resistance=1e4),
        dict(track_resistance=50.0, load_resistance=1e6), dict(supply_voltage=1.5, load_resistance=1.0)]),
    "pump-drive": (pump, [0.3, 2.5, 6.0, 9.0], dict(
        motor_resistance=6.0, motor_constant=0.02, friction_torque=1.5, rotor_coefficient=5e-8, pressure_coefficient=0.13,
        lift=0.15, laminar_resistance=500.0, turbulent_resistance=25.0, collecting_time=20.0, water_temperature=20.0), [
        {}, dict(friction_torque=0.0, lift=0.0), dict(motor_resistance=2.0, rotor_coefficient=2e-7, water_temperature=60.0),
        dict(laminar_resistance=0.0, lift=0.4), dict(motor_constant=0.01, pressure_coefficient=0.03)]),
    "module-load": (module, [0.0, 1.0, 2.7, 8.0], dict(source_temperature=85.0, sink_temperature=20.0, **MODULE), [
        {}, dict(hot_resistance=0.0, cold_resistance=0.0), dict(source_temperature=15.0, sink_temperature=40.0),
        dict(hot_resistance=2.0, seebeck=0.07, module_resistance=0.8), dict(cold_resistance=1.5, conductance=1.0)]),
    "module-motor": (winch, [0.0, 50.0, 100.0, 150.0], dict(
        source_temperature=85.0, sink_temperature=15.0, motor_resistance=10.0, motor_constant=0.01, friction_torque=0.25,
        drum_radius=0.5, height=0.8, **{**MODULE, "hot_resistance": 0.3, "cold_resistance": 0.3}), [
        {}, dict(hot_resistance=0.0, cold_resistance=0.0), dict(motor_resistance=5.0, drum_radius=0.8),
        dict(motor_constant=0.006, friction_torque=0.1, height=1.5), dict(seebeck=0.06, conductance=0.8)]),
}
rows = []
for name, (solve, places, defaults, sets) in BENCHES.items():
    for changes in sets:
        p = {**defaults, **changes}
        text = ";".join(f"{key}={value!r}" for key, value in p.items())
        for at in places:
            rows += [[name, text, at, what, float(value)] for what, value in solve(p, at).items()]
keep("circuits.csv", ["bench", "settings", "at", "what", "value"], rows, 1e-8)
