"""A household's hot water by an independent calculation.

Written from the equations in the heads of src/bench/household.rs, sky.rs and f_chart.rs; it shares no code with the
program. Enthalpy by numerical integration (scipy quad), the day's sum of the cosine of incidence likewise.
"""
import math

from scipy.integrate import quad

from stored import keep

CP = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912]
RHO = [999.8459, 6.566951, -87.58744, 82.17275, -73.42178, 40.91129, -10.14159]
MEAN_DAY = [17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344]
DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

DEFAULTS = dict(
    people=4.0, litres_per_person=40.0, hot_temperature=55.0, mains_mean=11.0, mains_swing=3.0, air_mean=9.0,
    air_swing=9.0, latitude=50.0, tilt=45.0, clearness_mean=0.43, clearness_swing=0.07, collector_area=5.0,
    optical_efficiency=0.75, loss=4.0, exchanger_factor=0.95, incidence_factor=0.95, store_volume=300.0,
)
SETS = [
    {},
    dict(latitude=60.0, tilt=90.0, people=2.0, collector_area=4.0, store_volume=200.0),
    dict(latitude=35.0, tilt=20.0, clearness_mean=0.6, clearness_swing=0.1, people=5.0, loss=3.0, air_mean=17.0),
    dict(collector_area=2.0, loss=8.0, optical_efficiency=0.6, store_volume=120.0, people=6.0),
    dict(tilt=0.0, collector_area=30.0, store_volume=3000.0, hot_temperature=70.0, people=12.0, litres_per_person=60.0),
]


def poly(c, t):
    return sum(a * (t / 100.0) ** k for k, a in enumerate(c))


def day_light(latitude, tilt, declination):
    """Mean daily sum of the cosine of incidence while the sun is before the plane and above the horizon."""
    phi, beta = math.radians(latitude), math.radians(tilt)

    def cosine(angle, omega):
        return (math.cos(angle) * math.cos(declination) * math.cos(omega) + math.sin(angle) * math.sin(declination))

    sunset = min(math.acos(max(-1, min(1, -math.tan(a) * math.tan(declination)))) for a in (phi, phi - beta))
    return quad(lambda omega: cosine(phi - beta, omega), 0.0, sunset, epsabs=1e-13, epsrel=1e-13)[0]


def month(p, m):
    n, days = MEAN_DAY[m - 1], DAYS[m - 1]
    wave = lambda mean, swing, peak: p[mean] + p[swing] * math.cos(math.tau * (m - peak) / 12)
    air, mains, k = wave("air_mean", "air_swing", 7), wave("mains_mean", "mains_swing", 8), wave(
        "clearness_mean", "clearness_swing", 6.5)
    delta = math.radians(23.45) * math.sin(math.tau * (284 + n) / 365)
    flat = day_light(p["latitude"], 0.0, delta)
    outside = 86400 / math.pi * 1367 * (1 + 0.033 * math.cos(math.tau * n / 365)) * flat
    sunset = math.degrees(math.acos(-math.tan(math.radians(p["latitude"])) * math.tan(delta)))
    if sunset <= 81.4:
        diffuse = 1.391 - 3.560 * k + 4.189 * k**2 - 2.137 * k**3
    else:
        diffuse = 1.311 - 3.022 * k + 3.427 * k**2 - 1.821 * k**3
    direct = day_light(p["latitude"], p["tilt"], delta) / flat
    c = math.cos(math.radians(p["tilt"]))
    light = k * outside * ((1 - diffuse) * direct + diffuse * (1 + c) / 2 + 0.2 * (1 - c) / 2)
    litres = p["people"] * p["litres_per_person"] * days
    warm = quad(lambda t: poly(CP, t), mains, p["hot_temperature"], epsabs=1e-9, epsrel=1e-13)[0]
    load = litres / 1000 * poly(RHO, mains) * warm
    area = p["collector_area"]
    x = area * p["loss"] * p["exchanger_factor"] * days * 86400 / load * (
        11.6 + 1.18 * p["hot_temperature"] + 3.86 * mains - 2.32 * air) * (p["store_volume"] / (75 * area)) ** -0.25
    y = area * p["optical_efficiency"] * p["exchanger_factor"] * p["incidence_factor"] * light * days / load
    f = max(0.0, min(1.0, 1.029 * y - 0.065 * x - 0.245 * y**2 + 0.0018 * x**2 + 0.0215 * y**3))
    assert 0 < x < 18 and 0 < y < 3, (x, y)
    return [light / 3.6e6, air, mains, load / 3.6e6, x, y, f]


rows = []
for index, changes in enumerate(SETS):
    p = {**DEFAULTS, **changes}
    text = ";".join(f"{name}={value!r}" for name, value in p.items())
    rows += [[index, text, m] + [float(value) for value in month(p, m)] for m in (1, 4, 7, 10, 12)]
keep("household.csv", "set,settings,month,light_kWh_m2_d,air_C,mains_C,load_kWh,x,y,share".split(","), rows, 1e-9)
