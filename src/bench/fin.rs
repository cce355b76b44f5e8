//! A plate with tubes as a fin between them. In: lengths, conductivity, coefficients. Out: how well heat reaches the tubes.
//! It must not know light or weather.

/// A thin plate with tubes under it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fin {
    /// Loss coefficient U_L from plate to surroundings, W/(m² K).
    pub loss: f64,
    /// Distance W of the tubes' axes, m.
    pub spacing: f64,
    /// Diameter D of the tubes, thin-walled, m.
    pub diameter: f64,
    /// Thickness δ of the plate, m.
    pub thickness: f64,
    /// Conductivity k of the plate, W/(m K).
    pub conductivity: f64,
    /// Coefficient h between tube and water, W/(m² K).
    pub inside: f64,
}

impl Fin {
    /// How fast the temperature falls along the plate, `m = √(U_L / (k δ))` in 1/m.
    pub fn decay(&self) -> f64 {
        libm::sqrt(self.loss / (self.conductivity * self.thickness))
    }

    /// Fin efficiency `F = tanh(m (W − D) / 2) / (m (W − D) / 2)`: heat that reaches the tube as a share of what would reach it
    /// if the whole plate were as cool as its root.
    ///
    /// Source: Duffie and Beckman, Solar Engineering of Thermal Processes, section 6.5 (quoted from memory).
    pub fn efficiency(&self) -> f64 {
        let argument = self.decay() * (self.spacing - self.diameter) / 2.0;
        if argument > 0.0 { libm::tanh(argument) / argument } else { 1.0 }
    }

    /// Efficiency factor `F' = (1/U_L) / (W [1 / (U_L (D + (W − D) F)) + 1 / (π D h)])` with a perfect bond of tube and plate.
    ///
    /// Source: as for [`Fin::efficiency`].
    pub fn factor(&self) -> f64 {
        let wide = self.diameter + (self.spacing - self.diameter) * self.efficiency();
        let resistance = 1.0 / (self.loss * wide) + 1.0 / (std::f64::consts::PI * self.diameter * self.inside);
        1.0 / (self.loss * self.spacing * resistance)
    }
}
