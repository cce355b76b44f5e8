"""The collector turned before a lamp by an independent calculation.

Written from the equations in the head of src/bench/tilt.rs; it shares no code with the program. The fan of the beam is
averaged by scipy quad, the stream is followed along the plate by solve_ivp (each place of the plate as warm as its own
balance asks with the loss linear about the mean), and the mean plate temperature is found by brentq.
"""
import math

from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from stored import keep

CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]
DEFAULTS = dict(
    lamp_power=150.0, lamp_distance=0.40, lamp_radiant_share=0.85, lamp_gain=14.0, lamp_source_offset=0.03,
    lamp_evenness=0.95, beam_half_width=5.0, plate_area=0.04, optical_efficiency=0.85, incidence_coefficient=0.10,
    loss_linear=7.0, loss_quadratic=0.02, plate_transfer=8.0, flow=1.0, inlet_excess=0.0, room_temperature=20.0,
)
SETS = [
    {},
    dict(incidence_coefficient=0.0, loss_linear=18.0, loss_quadratic=0.05, inlet_excess=15.0),
    dict(flow=5.0, beam_half_width=20.0, plate_transfer=2.0),
    dict(inlet_excess=-5.0, room_temperature=26.0, incidence_coefficient=0.2, plate_area=0.02),
    dict(lamp_distance=1.0, beam_half_width=0.0, flow=0.5, loss_quadratic=0.0, inlet_excess=40.0),
]
ANGLES = [0.0, 30.0, 60.0, 75.0, 88.0]


def cp(t):
    return sum(c * (t / 100.0) ** k for k, c in enumerate(CP))


def fan(theta, delta):
    if delta == 0:
        return max(math.cos(theta), 0.0)
    share = lambda e: max(math.cos(theta + e), 0.0)
    edge = [math.pi / 2 - theta] if abs(math.pi / 2 - theta) < delta else None
    mean = lambda f: quad(f, -delta, delta, points=edge, epsabs=1e-14, epsrel=1e-13)[0]
    return mean(share) / mean(math.cos)


def steady(p, angle):
    theta, room = math.radians(angle), p["room_temperature"]
    inlet = room + p["inlet_excess"]
    rate = p["flow"] / 1000.0 * cp(inlet)
    square = (p["lamp_evenness"] * p["lamp_gain"] * p["lamp_radiant_share"] * p["lamp_power"]
              / (4 * math.pi * (p["lamp_distance"] + p["lamp_source_offset"]) ** 2))
    light = square * fan(theta, math.radians(p["beam_half_width"]))
    modifier = max(0.0, 1.0 - p["incidence_coefficient"] * (1.0 / math.cos(theta) - 1.0))
    absorbed = p["plate_area"] * p["optical_efficiency"] * modifier * light
    loss = lambda x: p["plate_area"] * (p["loss_linear"] * x + p["loss_quadratic"] * x * abs(x))

    def stream(mean):
        """Outlet when the loss is taken as linear about a mean plate temperature."""
        slope = p["plate_area"] * (p["loss_linear"] + 2 * p["loss_quadratic"] * abs(mean - room))
        level = absorbed - loss(mean - room) + slope * mean  # absorbed less loss, at plate temperature zero

        def along(_, y):
            # At each place: level - slope * plate = transfer * (plate - water), both for the whole plate.
            plate = (level + p["plate_transfer"] * y[0]) / (slope + p["plate_transfer"])
            return [p["plate_transfer"] * (plate - y[0]) / rate, plate]

        end = solve_ivp(along, (0.0, 1.0), [inlet, 0.0], method="DOP853", rtol=1e-12, atol=1e-12).y[:, -1]
        return end[0], end[1]

    mean = brentq(lambda m: stream(m)[1] - m, inlet - 20.0, inlet + 150.0, xtol=1e-11)
    outlet = stream(mean)[0]
    return light, absorbed, mean, outlet, rate * (outlet - inlet)


rows = []
for index, changes in enumerate(SETS):
    p = {**DEFAULTS, **changes}
    for angle in ANGLES:
        text = ";".join(f"{name}={value!r}" for name, value in p.items())
        rows.append([index, text, angle] + [float(value) for value in steady(p, angle)])
keep("tilt.csv", "set,settings,angle_deg,irradiance,absorbed_W,plate_C,outlet_C,useful_W".split(","), rows, 1e-8)
