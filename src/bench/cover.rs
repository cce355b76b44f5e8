//! What a glass cover does to light. In: angles in rad, refractive index, thickness in m. Out: shares of the light, 1.
//! It must not know heat: what happens in the gap below it is [`super::gap`]'s.
//!
//! Source: Fresnel's formulas, Snell's law and Bouguer's law; their use for covers as in Duffie and Beckman, Solar Engineering
//! of Thermal Processes, chapter 5 (quoted from memory).

/// A cover of one or more equal panes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cover {
    /// Refractive index n of the pane, 1.
    pub refraction: f64,
    /// Extinction coefficient K of the pane, 1/m: 4 for clear, 32 for greenish glass.
    pub extinction: f64,
    /// Thickness of a pane, m.
    pub thickness: f64,
    /// How many panes there are.
    pub panes: u32,
}

impl Cover {
    /// Angle of the light inside the pane, `sin θ_2 = sin θ / n` (Snell).
    pub fn angle_inside(&self, angle: f64) -> f64 {
        libm::asin(libm::sin(angle) / self.refraction)
    }

    /// Reflectance of one surface for light that swings across and along the plane of incidence (Fresnel):
    /// `sin² (θ_2 − θ) / sin² (θ_2 + θ)` and `tan² (θ_2 − θ) / tan² (θ_2 + θ)`; `((n − 1) / (n + 1))²` for square light.
    pub fn reflectances(&self, angle: f64) -> [f64; 2] {
        // Below this angle both formulas are the limit for square light to the last digits.
        const SQUARE: f64 = 1e-6;
        let square = |x: f64| x * x;
        if angle.abs() < SQUARE {
            return [square((self.refraction - 1.0) / (self.refraction + 1.0)); 2];
        }
        let inside = self.angle_inside(angle);
        [
            square(libm::sin(inside - angle) / libm::sin(inside + angle)),
            square(libm::tan(inside - angle) / libm::tan(inside + angle)),
        ]
    }

    /// Mean reflectance of one surface for light that is not polarised.
    pub fn reflectance(&self, angle: f64) -> f64 {
        let [across, along] = self.reflectances(angle);
        (across + along) / 2.0
    }

    /// Transmittance by reflection alone of N panes, mean of both directions of `(1 − r) / (1 + (2 N − 1) r)`.
    pub fn past_reflection(&self, angle: f64) -> f64 {
        let surfaces = 2.0 * f64::from(self.panes) - 1.0;
        let part = |r: f64| (1.0 - r) / (1.0 + surfaces * r);
        let [across, along] = self.reflectances(angle);
        (part(across) + part(along)) / 2.0
    }

    /// Transmittance by absorption alone, `exp(−K L N / cos θ_2)` (Bouguer).
    pub fn past_absorption(&self, angle: f64) -> f64 {
        let path = self.thickness * f64::from(self.panes) / libm::cos(self.angle_inside(angle));
        libm::exp(-self.extinction * path)
    }

    /// Transmittance τ, the product of both; within a per cent of the exact sum for glass.
    pub fn transmittance(&self, angle: f64) -> f64 {
        self.past_reflection(angle) * self.past_absorption(angle)
    }

    /// Share of the light that the cover itself absorbs, about `1 − τ_a`.
    pub fn absorbed(&self, angle: f64) -> f64 {
        1.0 - self.past_absorption(angle)
    }

    /// Reflectance for light that comes from all sides from below, about `τ_a − τ` at 60°.
    pub fn reflectance_from_below(&self) -> f64 {
        let all_sides = 60.0_f64.to_radians();
        self.past_absorption(all_sides) - self.transmittance(all_sides)
    }
}

/// Share of the light on a cover that a plate of absorptance α under it keeps, `τ α / (1 − (1 − α) ρ_d)`: what the plate
/// throws back is in part sent to it again by the cover.
pub fn transmittance_absorptance(transmittance: f64, absorptance: f64, reflectance_from_below: f64) -> f64 {
    transmittance * absorptance / (1.0 - (1.0 - absorptance) * reflectance_from_below)
}
