//! Free convection at plates. In: a fluid, a temperature difference in K, a length in m. Out: heat transfer coefficients.
//! It must not know radiation, nor what the plate is made of.

/// Standard acceleration of fall as textbooks round it, m/s².
const GRAVITY: f64 = 9.81;

/// A fluid at its film temperature, the mean of plate and surroundings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fluid {
    /// Thermal conductivity k, W/(m K).
    pub conductivity: f64,
    /// Kinematic viscosity ν, m²/s.
    pub kinematic_viscosity: f64,
    /// Thermal diffusivity a, m²/s.
    pub diffusivity: f64,
    /// Thermal expansion β, 1/K.
    pub expansion: f64,
}

impl Fluid {
    /// Prandtl number `Pr = ν / a`.
    pub fn prandtl(&self) -> f64 {
        self.kinematic_viscosity / self.diffusivity
    }

    /// Rayleigh number `Ra = g β |ΔT| L³ / (ν a)`.
    pub fn rayleigh(&self, difference: f64, length: f64) -> f64 {
        let buoyancy = GRAVITY * self.expansion * difference.abs() * length * length * length;
        buoyancy / (self.kinematic_viscosity * self.diffusivity)
    }

    /// Heat transfer coefficient h in W/(m² K) of a face whose air flows as told, `h = Nu k / L`.
    pub fn coefficient(&self, face: Face, difference: f64, length: f64) -> f64 {
        face.nusselt(self.rayleigh(difference, length), self.prandtl()) * self.conductivity / length
    }
}

/// How a warm face lies. The length is the height of an upright face, and area over perimeter of a level one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// Upright, laminar or turbulent.
    Upright,
    /// Upright, laminar up to Ra of 10⁹: closer there.
    UprightLaminar,
    /// Level, the warm face up.
    Up,
    /// Level, the warm face down.
    Down,
}

impl Face {
    /// Nusselt number at a Rayleigh and a Prandtl number.
    ///
    /// Upright: `(0.825 + 0.387 Ra^(1/6) / (1 + (0.492/Pr)^(9/16))^(8/27))²`; laminar
    /// `0.68 + 0.670 Ra^(1/4) / (1 + (0.492/Pr)^(9/16))^(4/9)`. Source: Churchill and Chu, 1975.
    /// Up: `0.54 Ra^(1/4)` to 2·10⁷, `0.15 Ra^(1/3)` beyond; down: `0.27 Ra^(1/4)`. Source: McAdams, Heat Transmission (textbooks end the first range at 10⁷), with area over perimeter as
    /// the length as in Incropera et al., section 9.6 (quoted from memory).
    pub fn nusselt(self, rayleigh: f64, prandtl: f64) -> f64 {
        let shape = 1.0 + libm::pow(0.492 / prandtl, 9.0 / 16.0);
        let fourth_root = libm::sqrt(libm::sqrt(rayleigh));
        match self {
            Self::Upright => {
                let root = 0.825 + 0.387 * libm::pow(rayleigh, 1.0 / 6.0) / libm::pow(shape, 8.0 / 27.0);
                root * root
            }
            Self::UprightLaminar => 0.68 + 0.670 * fourth_root / libm::pow(shape, 4.0 / 9.0),
            Self::Up if rayleigh > 2e7 => 0.15 * libm::cbrt(rayleigh),
            Self::Up => 0.54 * fourth_root,
            Self::Down => 0.27 * fourth_root,
        }
    }
}
