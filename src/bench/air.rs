//! Dry air at atmospheric pressure. In: a temperature in °C. Out: its properties in SI.
//! The polynomials hold from 0 to 150 °C and must not be used outside: beyond an end the properties keep their value there.
//!
//! Density is that of an ideal gas at 101 325 Pa, within 0.07 %. The others are least-squares fits, made for this program, to
//! the equations of Lemmon et al. at 101 325 Pa, in x = t / 100 °C: within 0.001 % for heat capacity and 0.03 % for viscosity
//! and conductivity. Tables of textbooks differ from these by up to 3 %.

use super::convection::Fluid;
use super::radiation::KELVIN;

const HEAT_CAPACITY: [f64; 4] = [1005.69, 1.45452, 4.03464, 0.0560319];
const VISCOSITY: [f64; 3] = [1.72231e-5, 4.96205e-6, -2.86057e-7];
const CONDUCTIVITY: [f64; 3] = [0.024366, 0.00759819, -0.000341213];

/// Pressure over specific gas constant, `101 325 Pa · 0.0289647 kg/mol / (8.314462618 J/(mol K))` in kg K/m³.
const PRESSURE_OVER_GAS_CONSTANT: f64 = 101_325.0 * 0.028_964_7 / 8.314_462_618;

fn inside(t: f64) -> f64 {
    t.clamp(0.0, 150.0)
}

fn polynomial(coefficients: &[f64], t: f64) -> f64 {
    let x = inside(t) / 100.0;
    coefficients.iter().rev().fold(0.0, |sum, coefficient| sum * x + coefficient)
}

/// Density ρ in kg/m³ at `t` °C.
pub fn density(t: f64) -> f64 {
    PRESSURE_OVER_GAS_CONSTANT / (inside(t) + KELVIN)
}

/// Specific heat capacity c_p in J/(kg K) at `t` °C.
pub fn heat_capacity(t: f64) -> f64 {
    polynomial(&HEAT_CAPACITY, t)
}

/// Thermal conductivity k in W/(m K) at `t` °C.
pub fn conductivity(t: f64) -> f64 {
    polynomial(&CONDUCTIVITY, t)
}

/// Dynamic viscosity μ in Pa s at `t` °C.
pub fn viscosity(t: f64) -> f64 {
    polynomial(&VISCOSITY, t)
}

/// Air as the correlations of free convection take it, at a film temperature of `t` °C; expansion as of an ideal gas.
pub fn fluid(t: f64) -> Fluid {
    Fluid {
        conductivity: conductivity(t),
        kinematic_viscosity: viscosity(t) / density(t),
        diffusivity: conductivity(t) / (density(t) * heat_capacity(t)),
        expansion: 1.0 / (inside(t) + KELVIN),
    }
}
