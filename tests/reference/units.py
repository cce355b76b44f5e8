"""Unit conversions by pint: one of each unit in SI base units, and the exponents of those."""
import fractions

import pint

from stored import keep

registry = pint.UnitRegistry()
# Our writing: pint's writing.
UNITS = {
    "m": "m", "km": "km", "cm": "cm", "mm": "mm", "µm": "um", "nm": "nm", "g": "g", "kg": "kg", "mg": "mg", "s": "s", "ms": "ms",
    "min": "min", "h": "h", "d": "day", "A": "A", "mA": "mA", "K": "kelvin", "mK": "millikelvin", "mol": "mol", "cd": "cd",
    "N": "N", "kN": "kN", "Pa": "Pa", "hPa": "hPa", "kPa": "kPa", "bar": "bar", "mbar": "mbar", "J": "J", "kJ": "kJ", "MJ": "MJ",
    "Wh": "watt_hour", "kWh": "kilowatt_hour", "eV": "eV", "cal": "cal", "kcal": "kcal", "W": "W", "mW": "mW", "kW": "kW", "C": "C",
    "V": "V", "mV": "mV", "F": "F", "µF": "uF", "Ω": "ohm", "kΩ": "kohm", "S": "siemens", "Wb": "Wb", "T": "tesla", "H": "henry",
    "Hz": "Hz", "kHz": "kHz", "L": "L", "mL": "mL", "cm2": "cm^2", "dm3": "dm^3", "m/s": "m/s", "km/h": "km/h", "g/s": "g/s",
    "L/min": "L/min", "mL/min": "mL/min", "1/min": "1/min", "rpm": "1/min", "W/m2": "W/m^2", "kJ/(kg K)": "kJ/(kg K)",
    "J/(g K)": "J/(g K)", "W/(m2 K)": "W/(m^2 K)", "W/(m K)": "W/(m K)", "W/K": "W/K", "J/K": "J/K", "kJ/kg": "kJ/kg",
    "mV/K": "mV/K", "kg/m3": "kg/m^3", "g/cm3": "g/cm^3", "mPa s": "mPa s", "N m": "N m", "V s": "V s", "%": "percent",
    "PJ": "PJ", "TWh": "terawatt_hour", "GHz": "GHz", "µV": "uV", "pF": "pF", "fs": "fs", "dL": "dL", "hL": "hL", "dam": "dam",
    "EJ": "EJ", "‰": "permille", "lm": "lumen", "sr": "steradian", "mrad": "mrad", "\u2126": "ohm", "ohm": "ohm", "Bq": "becquerel",
    "mGy": "milligray", "µSv": "microsievert", "kat": "katal", "J/(mol K)": "J/(mol K)", "V/m": "V/m", "Ω m": "ohm m", "lm/W": "lumen/W",
    "m^(1/2)": "m^0.5", "V/Hz^(1/2)": "V/Hz^0.5", "W m⁻²": "W/m^2", "J kg^-1 K^-1": "J/(kg K)", "kg·m·s^-2": "kg m/s^2", "°/s": "degree/s",
    "%/K": "percent/kelvin", "/s": "1/s", "g/(m2 h)": "g/(m^2 h)", "1/(Ω F)": "1/(ohm F)", "T m2": "T m^2", "Wb/A": "Wb/A", "C/mol": "C/mol",
    "°": "degree", "rad": "radian", "lx": "lux", "W/(m2 K2)": "W/(m^2 K^2)", "m2/s": "m^2/s", "K/min": "K/min", "kWh/(m2 d)": "kilowatt_hour/(m^2 day)",
}
BASE = {
    "kg": "[mass]", "m": "[length]", "s": "[time]", "A": "[current]", "K": "[temperature]", "mol": "[substance]", "cd": "[luminosity]",
}
# The kilogram, not the gram, is the base unit of mass in this system.
registry.default_system = "SI"
rows = []
for ours, theirs in UNITS.items():
    quantity = registry.Quantity(1.0, registry.parse_units(theirs)).to_base_units()
    exponents = {base: fractions.Fraction(quantity.dimensionality.get(name, 0)) for base, name in BASE.items()}
    rows.append([ours, float(quantity.magnitude), " ".join(f"{base}^({power})" for base, power in exponents.items() if power)])
keep("units.csv", ["unit", "si", "base"], rows, 1e-12)
