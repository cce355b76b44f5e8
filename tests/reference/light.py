"""The lamp before a light meter by an independent calculation.

Written from the equations in the head of src/bench/light.rs; it shares no code with the program. The disc is summed up
ring by ring with scipy quad instead of the closed form; the start of the heating curve is the slope of an integrated one.
"""
import math

from scipy.integrate import quad, solve_ivp

from stored import keep

DEFAULTS = dict(
    lamp_power=120.0, lamp_radiant_share=0.85, lamp_gain=8.0, lamp_source_offset=0.03, lamp_radius=0.0, meter_aside=0.0,
    second_distance=1.2, stray_irradiance=4.0, plate_absorptance=0.95, plate_capacity=2400.0,
)
SETS = [
    {},
    dict(lamp_radius=0.05, lamp_source_offset=0.0, stray_irradiance=0.0),
    dict(lamp_radius=0.03, lamp_source_offset=0.07, lamp_gain=12.0, lamp_power=200.0),
    dict(meter_aside=0.1, stray_irradiance=30.0, plate_absorptance=0.2),
    dict(lamp_radius=0.06, lamp_source_offset=0.1, lamp_power=40.0, lamp_gain=1.0, plate_capacity=8000.0),
]
DISTANCES = [0.1, 0.25, 0.6, 2.0]


def disc(radius, reach):
    """Irradiance of a Lambertian disc over that of a point of the same intensity on the axis."""
    if radius == 0:
        return 1.0
    ring = lambda r: 2.0 * r * reach**2 / (reach**2 + r**2) ** 2
    return quad(ring, 0.0, radius, epsabs=0, epsrel=1e-13)[0] * reach**2 / radius**2


rows = []
for index, changes in enumerate(SETS):
    p = {**DEFAULTS, **changes}
    for distance in DISTANCES:
        reach = distance + p["lamp_source_offset"]
        intensity = p["lamp_gain"] * p["lamp_radiant_share"] * p["lamp_power"] / (4.0 * math.pi)
        slant = math.atan2(p["meter_aside"], reach)
        path = math.hypot(reach, p["meter_aside"])
        lamp = intensity / path**2 * math.cos(slant) * disc(p["lamp_radius"], reach)
        total = lamp + p["stray_irradiance"]
        rate = lambda t, y: [p["plate_absorptance"] * total / p["plate_capacity"]]
        warming = solve_ivp(rate, (0.0, 60.0), [0.0], rtol=1e-12, atol=1e-12).y[0, -1]
        text = ";".join(f"{name}={value!r}" for name, value in p.items())
        rows.append([index, text, distance, total, lamp, float(warming)])
keep("light.csv", "set,settings,distance_m,irradiance,lamp_irradiance,heating_rate_K_min".split(","), rows, 1e-9)
