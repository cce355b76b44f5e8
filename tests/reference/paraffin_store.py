"""The paraffin store by an independent integration.

Written from the equations in the head of src/bench/paraffin_store.rs; it shares no code with the program.
Solver: scipy solve_ivp between events (ends of melting, freezing of the supercooled liquid, switching off), DOP853 at
rtol 1e-12, confirmed by Radau.
"""
import numpy as np
from scipy.integrate import solve_ivp

from stored import keep

# The usual settings of the bench; the test fails if they no longer are.
DEFAULTS = dict(
    paraffin_mass=0.08, melting_temperature=55.0, melting_range=0.0, latent_heat=180.0, solid_heat_capacity=2100.0,
    liquid_heat_capacity=2300.0, supercooling=0.0, vessel_capacity=20.0, loss=0.12, wall_resistance=0.0,
    heater_voltage=12.0, heater_current=1.25, heating_time=86400.0, room_temperature=20.0, start_excess=0.0, probe_lag=0.0,
)
SETS = [
    {},
    dict(melting_range=3.0, heating_time=2000.0, supercooling=1.5, probe_lag=20.0, wall_resistance=0.6, heater_current=1.5),
    dict(heater_voltage=0.0, start_excess=52.0, supercooling=2.0, loss=0.3, probe_lag=60.0),
    dict(paraffin_mass=0.03, latent_heat=150.0, heating_time=900.0, melting_range=0.5, vessel_capacity=0.0, loss=0.4),
    dict(paraffin_mass=0.2, heater_voltage=6.0, heating_time=600.0, wall_resistance=2.0, probe_lag=5.0, start_excess=33.0),
]
TIMES = [60.0, 600.0, 1500.0, 2700.0, 5400.0, 14400.0]
ENDS = [2000.0, 14400.0, 14400.0, 14400.0, 14400.0]


class Store:
    def __init__(self, p):
        self.p = p
        self.lower = p["melting_temperature"] - p["melting_range"] / 2
        self.upper = p["melting_temperature"] + p["melting_range"] / 2
        self.solid = p["paraffin_mass"] * p["solid_heat_capacity"] + p["vessel_capacity"]
        self.liquid = p["paraffin_mass"] * p["liquid_heat_capacity"] + p["vessel_capacity"]
        self.full = p["paraffin_mass"] * 1000 * p["latent_heat"] + p["melting_range"] * (self.solid + self.liquid) / 2
        self.power = p["heater_voltage"] * p["heater_current"]

    def temperature(self, energy, frozen):
        if energy >= self.full or not frozen:
            return self.upper + (energy - self.full) / self.liquid
        if energy <= 0:
            return self.lower + energy / self.solid
        return self.lower + (self.upper - self.lower) * energy / self.full

    def energy(self, t):
        if t <= self.lower:
            return (t - self.lower) * self.solid
        return self.full + (t - self.upper) * self.liquid

    def wall(self, power, t):
        """From the wall's own balance: P = K (T_w - T_a) + (T_w - T) / R."""
        if self.p["wall_resistance"] == 0:
            return t
        g = 1 / self.p["wall_resistance"]
        return (power + self.p["loss"] * self.p["room_temperature"] + g * t) / (self.p["loss"] + g)

    def run(self, method, times):
        p = self.p
        start = self.energy(p["room_temperature"] + p["start_excess"])
        frozen = start < self.full or p["supercooling"] == 0
        state = np.array([start, p["room_temperature"] + p["start_excess"], 0.0, 0.0])
        now, out, left = 0.0, [], list(times)
        while left:
            on = now < p["heating_time"]
            power = self.power if on else 0.0
            end = min(left[0], p["heating_time"] if on else np.inf)
            solid_here = frozen

            def rhs(t, y):
                temp = self.temperature(y[0], solid_here)
                lost = p["loss"] * (self.wall(power, temp) - p["room_temperature"])
                probe = (temp - y[1]) / p["probe_lag"] if p["probe_lag"] > 0 else 0.0
                return [power - lost, probe, power, lost]

            marks = [0.0, self.full] if solid_here else [self.full - p["supercooling"] * self.liquid]
            events = []
            for mark in marks:
                if abs(state[0] - mark) < 1e-6:
                    continue
                event = lambda t, y, mark=mark: y[0] - mark
                event.terminal = True
                events.append(event)
            # A mark just met is left behind before it is watched again.
            solved = solve_ivp(rhs, (now, end), state, method=method, rtol=1e-12, atol=1e-10, events=events or None, max_step=20.0)
            assert solved.success
            now, state = solved.t[-1], solved.y[:, -1]
            if solved.status == 1:
                if solid_here and abs(state[0] - self.full) < 1e-5 and p["supercooling"] > 0 and rhs(now, state)[0] > 0:
                    frozen = False
                elif not solid_here:
                    frozen = True
            if now == left[0]:
                temp = self.temperature(state[0], frozen)
                probe = state[1] if p["probe_lag"] > 0 else temp
                molten = min(max(state[0] / self.full, 0.0), 1.0) if frozen else 1.0
                power_now = self.power if now < p["heating_time"] else 0.0
                out.append([probe, temp, self.wall(power_now, temp), molten, state[0] - start, state[2], state[3]])
                left.pop(0)
        return np.array(out)


if __name__ == "__main__":
    rows = []
    for index, (changes, end) in enumerate(zip(SETS, ENDS)):
        settings = {**DEFAULTS, **changes}
        times = [time for time in TIMES if time <= end]
        states, again = Store(settings).run("DOP853", times), Store(settings).run("Radau", times)
        assert np.allclose(states, again, rtol=1e-8, atol=1e-7), (states - again)
        text = ";".join(f"{name}={value!r}" for name, value in settings.items())
        for time, values in zip(times, states):
            rows.append([index, text, time] + [float(value) for value in values])
    header = "set,settings,t_s,probe_C,paraffin_C,wall_C,molten,stored_J,supplied_J,lost_J".split(",")
    keep("paraffin_store.csv", header, rows, 1e-7)
