//! A round lens, such as a flat Fresnel lens, that gathers light in a spot. In: lengths in m, irradiance in W/m².
//! Out: where the image lies, how wide the spot is, the power in it. It must not know what the spot falls on.

/// Half the angle under which the sun is seen, rad. Source: astronomical tables (quoted from memory).
pub const SUN_HALF_ANGLE: f64 = 4.65e-3;

/// Irradiance from which a spot burns skin and paper and blinds by its glare, W/m².
///
/// Source: common practice, no source; a good ten times full sunlight.
pub const BURNING: f64 = 10_000.0;

/// A lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lens {
    /// Diameter W of the lens, m.
    pub diameter: f64,
    /// Focal length f, m.
    pub focal_length: f64,
    /// Share ρ of the light that reaches the spot, 1.
    pub transmittance: f64,
    /// Width b that colours and facets add to the sharpest spot, m.
    pub blur: f64,
}

/// What the lens looks at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Source {
    /// A disc far away, seen under half the angle in rad.
    Far(f64),
    /// A disc of a diameter (m) at a distance (m) beyond the focal length.
    Near {
        /// Diameter s, m.
        size: f64,
        /// Distance D from the lens, m.
        distance: f64,
    },
}

impl Lens {
    /// Area of the lens, `π W² / 4` in m².
    pub fn area(&self) -> f64 {
        disc(self.diameter)
    }

    /// Distance v of the image behind the lens, m: f for a source far away, else `1 / (1/f − 1/D)`.
    ///
    /// Source: equation of the thin lens, in every text on optics.
    pub fn image_distance(&self, source: Source) -> f64 {
        match source {
            Source::Far(_) => self.focal_length,
            Source::Near { distance, .. } => 1.0 / (1.0 / self.focal_length - 1.0 / distance),
        }
    }

    /// Diameter of the sharp image without blur: `2 f tan θ`, or `s v / D`, m.
    pub fn image_size(&self, source: Source) -> f64 {
        self.image_distance(source) * spread(source)
    }

    /// Diameter of the spot on a screen x behind the lens: `√((W (1 − x/v))² + (x σ + b x/v)²)` in m, where σ is `2 tan θ` or
    /// `s / D`.
    ///
    /// The first part is the cone of light from each point of the source, the second the spread of the source and of the
    /// blur. Independent spreads add by their squares; common practice, no source.
    pub fn spot(&self, source: Source, x: f64) -> f64 {
        let share = x / self.image_distance(source);
        libm::hypot(self.diameter * (1.0 - share), x * spread(source) + self.blur * share)
    }

    /// Power in the spot, `ρ A G` in W: no more than what falls on the lens.
    pub fn power(&self, irradiance: f64) -> f64 {
        self.transmittance * self.area() * irradiance
    }

    /// Area of the lens over area of a spot, 1.
    pub fn area_ratio(&self, spot: f64) -> f64 {
        self.area() / disc(spot)
    }

    /// Irradiance in a spot against that on the lens, `ρ A / A_spot`.
    pub fn concentration(&self, spot: f64) -> f64 {
        self.transmittance * self.area_ratio(spot)
    }
}

/// Share of the power of a spot that falls on a disc in its middle, `1 − exp(−2 (D/d)²)`, for a bell-shaped spot whose
/// diameter d is where the light has fallen to `1/e²` of its middle.
pub fn caught(disc: f64, spot: f64) -> f64 {
    let ratio = disc / spot;
    -libm::expm1(-2.0 * ratio * ratio)
}

/// Whether a spot asks for the caution against burns and glare.
pub fn burns(irradiance: f64) -> bool {
    irradiance > BURNING
}

fn disc(diameter: f64) -> f64 {
    std::f64::consts::PI * diameter * diameter / 4.0
}

/// Width of the image per distance behind the lens.
fn spread(source: Source) -> f64 {
    match source {
        Source::Far(half_angle) => 2.0 * libm::tan(half_angle),
        Source::Near { size, distance } => size / distance,
    }
}
