"""Unit conversions by pint: one of each unit in SI base units."""
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
    "°": "degree", "rad": "radian", "lx": "lux", "W/(m2 K2)": "W/(m^2 K^2)", "m2/s": "m^2/s", "K/min": "K/min", "kWh/(m2 d)": "kilowatt_hour/(m^2 day)",
}
rows = []
for ours, theirs in UNITS.items():
    quantity = registry.Quantity(1.0, registry.parse_units(theirs)).to_base_units()
    # pint's base of mass is the kilogram only when asked for.
    quantity = quantity.to_root_units()
    mass = float(quantity.dimensionality.get("[mass]", 0))
    factor = float(quantity.magnitude) * (1e-3 ** mass if "gram" in str(quantity.units) and "kilogram" not in str(quantity.units) else 1.0)
    rows.append([ours, factor])
keep("units.csv", ["unit", "si"], rows, 1e-12)
