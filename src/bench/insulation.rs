//! What gets through a wall with an insulating layer and the air film outside. In: sizes in m, conductivities in W/(m K),
//! films in W/(m² K). Out: losses per kelvin. It must store no heat.

use std::f64::consts::PI;

/// A wall whose water side is as warm as the water: a flat layer, and the film of air with radiation outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    /// Area A, m².
    pub area: f64,
    /// Film coefficient h outside: convection and radiation together, W/(m² K).
    pub film: f64,
    /// Thickness t of the layer, m; zero for a bare wall.
    pub thickness: f64,
    /// Thermal conductivity k of the layer, W/(m K).
    pub conductivity: f64,
}

impl Wall {
    /// Loss per kelvin `K = A / (t/k + 1/h)`, W/K.
    ///
    /// Source: plane wall and film in series, heat-transfer textbooks; holds while the layer is thin against the radius.
    pub fn loss_per_kelvin(&self) -> f64 {
        self.area / (self.thickness / self.conductivity + 1.0 / self.film)
    }
}

/// A sleeve of insulation around a tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sleeve {
    /// Inner radius of the sleeve r_i, m.
    pub inner_radius: f64,
    /// Thickness t, m.
    pub thickness: f64,
    /// Thermal conductivity k, W/(m K).
    pub conductivity: f64,
    /// Film coefficient h outside, W/(m² K).
    pub film: f64,
}

impl Sleeve {
    /// Loss per kelvin and metre of tube, `2 π / (ln(r_o/r_i)/k + 1/(h r_o))` with `r_o = r_i + t`, W/(m K).
    ///
    /// Source: cylindrical wall and film in series, heat-transfer textbooks.
    pub fn loss_per_metre(&self) -> f64 {
        let outer = self.inner_radius + self.thickness;
        2.0 * PI / (libm::log(outer / self.inner_radius) / self.conductivity + 1.0 / (self.film * outer))
    }

    /// Outer radius at which the loss is largest, `k / h` in m: a thinner tube loses more with a thin sleeve than bare.
    ///
    /// Derivation: the resistance of [`Sleeve::loss_per_metre`] has its only minimum there.
    pub fn critical_radius(&self) -> f64 {
        self.conductivity / self.film
    }
}
