//! A flat plate that absorbs light, loses heat to the room and passes heat to a stream of water.
//! In: temperatures in °C, irradiance in W/m². Out: powers in W. It must not store heat: stores are the bench's.

/// A flat-plate collector.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Collector {
    /// Area A of the absorber, m².
    pub area: f64,
    /// Optical efficiency η_0: share of the light that the plate absorbs, 1.
    pub optical_efficiency: f64,
    /// Linear loss coefficient a_1, W/(m² K).
    pub loss_linear: f64,
    /// Quadratic loss coefficient a_2, W/(m² K²).
    pub loss_quadratic: f64,
    /// Heat transfer UA from plate to water, W/K. In laminar flow it does not depend on the flow.
    pub transfer: f64,
}

impl Collector {
    /// Power absorbed, `A η_0 G`.
    pub fn gain(&self, irradiance: f64) -> f64 {
        self.area * self.optical_efficiency * irradiance
    }

    /// Power lost by a plate that is `excess` kelvin warmer than the room, `A (a_1 ΔT + a_2 ΔT |ΔT|)`.
    ///
    /// Source: the quadratic form of ISO 9806, written so that a plate below room temperature takes heat in.
    pub fn loss(&self, excess: f64) -> f64 {
        self.area * (self.loss_linear * excess + self.loss_quadratic * excess * excess.abs())
    }

    /// By how much the loss grows per kelvin, `L = A (a_1 + 2 a_2 |ΔT|)` in W/K: the slope of [`Collector::loss`].
    pub fn loss_slope(&self, excess: f64) -> f64 {
        self.area * (self.loss_linear + 2.0 * self.loss_quadratic * excess.abs())
    }

    /// Steady-state efficiency `excess` kelvin above the room: `η_0 − a_1 ΔT/G − a_2 ΔT²/G`.
    ///
    /// Source: ISO 9806, steady-state test. On this bench ΔT is that of the plate; with the coefficients of a test
    /// report, which refer to the fluid, it is that of the mean fluid temperature.
    pub fn efficiency(&self, irradiance: f64, excess: f64) -> f64 {
        (self.gain(irradiance) - self.loss(excess)) / (self.area * irradiance)
    }

    /// By how much a plate that nothing cools is warmer than the room in the end, K: where [`Collector::loss`] equals
    /// [`Collector::gain`], `2 η_0 G / (a_1 + √(a_1² + 4 a_2 η_0 G))`.
    ///
    /// Source: zero efficiency in the quadratic form of ISO 9806; written so that it holds for a_2 = 0 as well.
    pub fn stagnation_excess(&self, irradiance: f64) -> f64 {
        let light = self.optical_efficiency * irradiance;
        let root = libm::sqrt(self.loss_linear * self.loss_linear + 4.0 * self.loss_quadratic * light);
        2.0 * light / (self.loss_linear + root)
    }

    /// Efficiency factor `F' = UA / (UA + L)`: the heat that reaches the water at one place of the plate, as a share of
    /// what would reach it if the plate were as cool as the water.
    ///
    /// Source: Duffie and Beckman, Solar Engineering of Thermal Processes, section 6.5 (quoted from memory).
    pub fn efficiency_factor(&self, excess: f64) -> f64 {
        self.transfer / (self.transfer + self.loss_slope(excess))
    }

    /// Heat removal factor `F_R = (ṁc/L) (1 − exp(−F' L / ṁc))` for a stream of heat capacity rate ṁc (W/K): the useful
    /// heat as a share of what it would be if the whole plate were as cool as the water that enters.
    ///
    /// Source: Hottel, Whillier and Bliss, in Duffie and Beckman, sections 6.6 and 6.7 (quoted from memory).
    pub fn heat_removal_factor(&self, rate: f64, excess: f64) -> f64 {
        let slope = self.loss_slope(excess);
        -rate / slope * libm::expm1(-self.efficiency_factor(excess) * slope / rate)
    }

    /// Heat that the stream takes from the plate per kelvin between the plate's mean temperature and the water that
    /// enters, `K = L F_R / (1 − F_R)` in W/K, for a plate `excess` kelvin above the room and a stream ṁc > 0 in W/K.
    ///
    /// Derivation: along the stream the loss is taken as linear about the plate's mean temperature T_p. A plate that
    /// absorbs evenly gives off `Q = F_R (N + L (T_p − T_in))`, where N is what is left of the light after the loss at T_p
    /// and after what the plate itself stores; as the stream takes just that, `N = Q`. For a linear loss in the steady
    /// state it is the useful heat of Hottel, Whillier and Bliss, `F_R (A η_0 G − L (T_in − T_a))`, without approximation.
    pub fn coupling(&self, rate: f64, excess: f64) -> f64 {
        // The same with one division less for each of F', F_R and K; E = 1 − exp(−F' L / ṁc).
        let slope = self.loss_slope(excess);
        let taken = -rate * libm::expm1(-self.transfer * slope / ((self.transfer + slope) * rate));
        taken * slope / (slope - taken)
    }
}
