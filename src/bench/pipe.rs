//! Flow in a round tube. In: the fluid, the tube, the mass flow in kg/s. Out: speed, Reynolds number, drop of pressure.
//! It must not know what drives the flow.
//!
//! Hagen and Poiseuille: `Δp = 128 μ L ṁ / (π ρ d⁴)`; fittings and bends: `Δp = K ρ u² / 2` with `u = ṁ / (ρ A)`,
//! `A = π d² / 4`; `Re = ρ u d / μ`. Source: any text of fluid mechanics (Munson, Young and Okiishi, chapter 8).
//! Valid for fully developed laminar flow, `Re` below about 2100.

use std::f64::consts::PI;

/// A fluid at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fluid {
    /// Density ρ, kg/m³.
    pub density: f64,
    /// Dynamic viscosity μ, Pa s.
    pub viscosity: f64,
}

/// A round tube with its bends and fittings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pipe {
    /// Inner diameter d, m.
    pub diameter: f64,
    /// Length L, m.
    pub length: f64,
    /// Sum K of the loss coefficients of bends and fittings.
    pub minor: f64,
}

impl Pipe {
    /// Cross-section A, m².
    pub fn section(&self) -> f64 {
        PI * self.diameter * self.diameter / 4.0
    }

    /// Mean speed u, m/s.
    pub fn speed(&self, fluid: Fluid, flow: f64) -> f64 {
        flow / (fluid.density * self.section())
    }

    /// Reynolds number.
    pub fn reynolds(&self, fluid: Fluid, flow: f64) -> f64 {
        fluid.density * self.speed(fluid, flow) * self.diameter / fluid.viscosity
    }

    /// Resistance of the straight tube, the drop of pressure per mass flow, Pa s/kg.
    pub fn resistance(&self, fluid: Fluid) -> f64 {
        let square = self.diameter * self.diameter;
        128.0 * fluid.viscosity * self.length / (PI * fluid.density * square * square)
    }

    /// Drop of pressure by friction and fittings, Pa.
    pub fn drop(&self, fluid: Fluid, flow: f64) -> f64 {
        let speed = self.speed(fluid, flow);
        self.resistance(fluid) * flow + self.minor * fluid.density * speed * speed / 2.0
    }

    /// Angle in degrees below the horizontal (negative) at which gravity g alone keeps the flow, without fittings; `None`
    /// where even a vertical tube is too flat.
    pub fn slope(&self, fluid: Fluid, flow: f64, gravity: f64) -> Option<f64> {
        let sine = self.resistance(fluid) * flow / (fluid.density * gravity * self.length);
        (sine.abs() <= 1.0).then(|| -libm::asin(sine).to_degrees())
    }
}
