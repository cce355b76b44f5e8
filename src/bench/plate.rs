//! A dry plate that absorbs light and loses heat to the room by radiation, free convection and through its back.
//! In: temperatures in °C, irradiance in W/m². Out: powers in W. It must not store heat: stores are the bench's.

use super::radiation::KELVIN;
use super::{radiation, root};

/// The excess over the room to which the coefficient of convection belongs, K.
const REFERENCE_EXCESS: f64 = 30.0;

/// No plate on the bench comes near this excess over the room, K.
const BEYOND: f64 = 1e4;

/// A plate with one lit face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// Area A of the lit face, m².
    pub area: f64,
    /// Absorptance α for the light of the lamp, 1.
    pub absorptance: f64,
    /// Emittance ε for heat rays, 1.
    pub emittance: f64,
    /// Faces F that radiate and warm the air: 1 with an insulated back, 2 for a plate that hangs free.
    pub faces: f64,
    /// Coefficient h_30 of convection at each such face, 30 K above the room, W/(m² K).
    pub convection: f64,
    /// Exponent n of free convection: 1/4 laminar, 1/3 turbulent, 0 for a coefficient that does not change (a draught).
    pub convection_exponent: f64,
    /// Loss U_b through the back per area and kelvin, W/(m² K).
    pub back_loss: f64,
}

impl Plate {
    /// Power absorbed, `A α G`.
    pub fn gain(&self, irradiance: f64) -> f64 {
        self.area * self.absorptance * irradiance
    }

    /// Net power radiated, `F A ε σ (T⁴ − T_a⁴)`, see [`radiation::net`].
    pub fn radiated(&self, plate: f64, room: f64) -> f64 {
        self.faces * self.area * radiation::net(self.emittance, plate + KELVIN, room + KELVIN)
    }

    /// Coefficient of convection `h = h_30 (|ΔT| / 30 K)^n` in W/(m² K) of a plate `excess` kelvin warmer than the room.
    ///
    /// Source: `Nu ~ Ra^n` of free convection, see [`super::convection`], with the properties of air at one temperature.
    pub fn convection(&self, excess: f64) -> f64 {
        let share = excess.abs() / REFERENCE_EXCESS;
        self.convection * if self.convection_exponent > 0.0 { libm::pow(share, self.convection_exponent) } else { 1.0 }
    }

    /// Power given to the air, `F A h ΔT`.
    pub fn convected(&self, excess: f64) -> f64 {
        self.faces * self.area * self.convection(excess) * excess
    }

    /// Power lost through the back, `A U_b ΔT`.
    pub fn through_back(&self, excess: f64) -> f64 {
        self.area * self.back_loss * excess
    }

    /// All that the plate loses, W.
    pub fn loss(&self, plate: f64, room: f64) -> f64 {
        self.radiated(plate, room) + self.convected(plate - room) + self.through_back(plate - room)
    }

    /// By how much the loss grows per kelvin, `A (F (4 ε σ T³ + (1 + n) h) + U_b)` in W/K: the slope of [`Plate::loss`].
    pub fn loss_slope(&self, plate: f64, room: f64) -> f64 {
        let radiation = radiation::per_kelvin(self.emittance, plate + KELVIN);
        let convection = (1.0 + self.convection_exponent) * self.convection(plate - room);
        self.area * (self.faces * (radiation + convection) + self.back_loss)
    }

    /// How fast the plate warms, `(A α G − loss) / C` in K/s; at the temperature of the room `α G A / C`.
    pub fn warming(&self, irradiance: f64, plate: f64, room: f64, capacity: f64) -> f64 {
        (self.gain(irradiance) - self.loss(plate, room)) / capacity
    }

    /// The temperature in °C at which the plate loses what it absorbs.
    pub fn limit(&self, irradiance: f64, room: f64) -> f64 {
        let gain = self.gain(irradiance);
        if gain <= 0.0 {
            return room;
        }
        root::falling(room, room + BEYOND, |plate| gain - self.loss(plate, room))
    }
}
