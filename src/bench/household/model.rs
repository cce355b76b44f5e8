//! One month of a household. In: settings and the month. Out: light, load, shares and heat in SI.
//! Every month stands for itself: nothing is carried over.

use super::super::{
    Settings,
    f_chart::{self, System},
    sky::{self, Sky},
    water,
};

/// Albedo of the ground: common practice, no source.
const ALBEDO: f64 = 0.2;

/// A month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Month {
    pub(super) days: f64,
    /// Irradiation on the collector, J/m² a day.
    pub(super) irradiation: f64,
    /// Outside air, °C.
    pub(super) air: f64,
    /// Cold water from the mains, °C.
    pub(super) mains: f64,
    /// Heat that the hot water takes, J.
    pub(super) load: f64,
    /// Light on the collectors, J.
    pub(super) light: f64,
    /// The numbers X and Y of the correlation.
    pub(super) loss_ratio: f64,
    pub(super) gain_ratio: f64,
    /// Share of the load that the sun covers.
    pub(super) share: f64,
}

impl Month {
    pub(super) fn new(settings: &Settings, month: usize) -> Self {
        let of = |name: &str| settings.get(name);
        let wave = |mean: f64, swing: f64, peak: f64| {
            mean + swing * libm::cos(2.0 * std::f64::consts::PI * (month as f64 - peak) / 12.0)
        };
        let air = wave(of("air_mean"), of("air_swing"), 7.0);
        let mains = wave(of("mains_mean"), of("mains_swing"), 8.0);
        let clearness = wave(of("clearness_mean"), of("clearness_swing"), 6.5);
        let irradiation = Sky::new(of("latitude"), month).irradiation(clearness, of("tilt"), ALBEDO);
        let (hot, area, days) = (of("hot_temperature"), of("collector_area"), sky::days(month));
        let litres = of("people") * of("litres_per_person") * days;
        let mass = litres * water::density(mains) / 1000.0;
        let load = mass * (water::enthalpy(hot) - water::enthalpy(mains));
        let system = System {
            area,
            gain: of("optical_efficiency"),
            loss: of("loss"),
            exchanger: of("exchanger_factor"),
            incidence: of("incidence_factor"),
            load,
            seconds: 86_400.0 * days,
        };
        let difference = f_chart::water_heating_difference(hot, mains, air).max(0.0);
        let loss_ratio = system.loss_ratio(difference) * f_chart::store_correction(of("store_volume") / area);
        let gain_ratio = system.gain_ratio(irradiation * days);
        let share = f_chart::share(loss_ratio, gain_ratio);
        Self { days, irradiation, air, mains, load, light: area * irradiation * days, loss_ratio, gain_ratio, share }
    }

    /// Heat from the sun that is used, J.
    pub(super) fn solar(&self) -> f64 {
        self.share * self.load
    }
}
