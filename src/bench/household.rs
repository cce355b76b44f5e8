//! A household's hot water from the sun, month by month. In: the house, the collectors, the climate. Out: light, load and
//! share of the sun in each month. It is a plan, not a run in time: the share is a correlation, not a balance.
//!
//! # Equations
//! Load: `L = n v N ρ(T_m) (h(T_w) − h(T_m))`.
//! Light on the collectors: `H` a day, see [`super::sky`]; clearness, air and mains follow a year's wave,
//! `K_T = K_0 + K_1 cos(2 π (m − 6.5)/12)`, `T_a = T_0 + T_1 cos(2 π (m − 7)/12)`, `T_m` likewise with its peak in August.
//! Losses: `X = A F_R U_L (F_R'/F_R) (11.6 + 1.18 T_w + 3.86 T_m − 2.32 T_a) Δt / L · (V / (75 L/m² A))^(−1/4)`.
//! Gains: `Y = A F_R (τα)_n (F_R'/F_R) ((τα)/(τα)_n) H N / L`.
//! Share: `f = 1.029 Y − 0.065 X − 0.245 Y² + 0.0018 X² + 0.0215 Y³`, kept from 0 to 1, see [`super::f_chart`].
//! Heat from the sun `f L`, from the backup heater `(1 − f) L`.
//! Ledger over the months read: supplied is the light on the collectors and the backup, "stored" the heat that the hot
//! water carries, lost the light that is not used.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | m, N, Δt | month (1 is January, 0 December before), its days, its length | 1, 1, s |
//! | n, v | people, hot water each of them uses in a day | 1, L |
//! | T_w, T_m, T_a | hot water, mains, outside air | °C |
//! | ρ, h | density and specific enthalpy of water, see [`super::water`] | kg/m³, J/kg |
//! | A, V | collector area, volume of the store | m², L |
//! | F_R (τα)_n, F_R U_L | intercept and slope of the collector's efficiency line | 1, W/(m² K) |
//! | F_R'/F_R, (τα)/(τα)_n | penalty of the heat exchanger, mean incidence | 1, 1 |
//! | K_T, H | clearness, irradiation on the collector | 1, J/m² a day |
//!
//! Sources: Klein, Beckman and Duffie, Solar Energy 18 (1976) 113; Duffie and Beckman, Solar Engineering of Thermal
//! Processes, chapters 1, 2 and 20 (quoted from memory); the waves of climate: common practice, no source.
//!
//! # Validity
//! Latitudes from 30° to 60° north, collectors that face south, clearness from 0.3 to 0.8; 37.5 to 300 L of store a
//! square metre; X up to 18 and Y up to 3;
//! hot water from 50 to 70 °C (mains from 5 to 20 °C), drawn by day; monthly means of many years.

mod model;

use super::{
    Bench, BenchError, Energy, Input, Run, Settings, State,
    f_chart::{MOST_GAIN, MOST_LOSS, STORES},
    input,
    integrate::ascending,
};
use model::Month;

/// Joules in a kilowatt-hour.
const KILOWATT_HOUR: f64 = 3.6e6;

/// The household.
#[derive(Debug, Clone, Copy)]
pub struct Household;

static INPUTS: &[Input] = &[
    input("people", "1", 4.0, (1.0, 12.0), "people in the house"),
    input("litres_per_person", "L", 40.0, (15.0, 90.0), "hot water that a person uses in a day"),
    input("hot_temperature", "°C", 55.0, (50.0, 70.0), "hot water"),
    input("mains_mean", "°C", 11.0, (8.0, 16.0), "cold water, mean of the year"),
    input("mains_swing", "K", 3.0, (0.0, 4.0), "swing of the cold water around it, highest in August"),
    input("air_mean", "°C", 9.0, (2.0, 18.0), "outside air, mean of the year"),
    input("air_swing", "K", 9.0, (3.0, 12.0), "swing of the outside air around it, highest in July"),
    input("latitude", "deg", 50.0, (30.0, 60.0), "northern latitude"),
    input("tilt", "deg", 45.0, (0.0, 90.0), "tilt of the collectors, which face south"),
    input("clearness_mean", "1", 0.43, (0.42, 0.65), "clearness of the sky, mean of the year"),
    input("clearness_swing", "1", 0.07, (0.0, 0.12), "swing of the clearness around it, highest at midsummer"),
    input("collector_area", "m2", 5.0, (1.0, 30.0), "area of the collectors"),
    input("optical_efficiency", "1", 0.75, (0.5, 0.85), "efficiency of the collector without loss, F_R (τα)"),
    input("loss", "W/(m2 K)", 4.0, (1.0, 9.0), "loss coefficient of the collector, F_R U_L"),
    input("exchanger_factor", "1", 0.95, (0.7, 1.0), "penalty of the heat exchanger"),
    input("incidence_factor", "1", 0.95, (0.85, 1.0), "mean of (τα) against normal incidence"),
    input("store_volume", "L", 300.0, (50.0, 3000.0), "volume of the store, 37.5 to 300 L a square metre of collector"),
];

static STATES: &[State] = &[
    State { id: "days", unit: "d", about: "days of the month" },
    State { id: "irradiation", unit: "kWh/(m2 d)", about: "light on the collectors, mean of a day" },
    State { id: "light", unit: "kWh", about: "light on all collectors in the month" },
    State { id: "air_temperature", unit: "°C", about: "outside air" },
    State { id: "mains_temperature", unit: "°C", about: "cold water from the mains" },
    State { id: "load", unit: "kWh", about: "heat that the hot water takes in the month" },
    State { id: "loss_ratio", unit: "1", about: "X of the f-chart" },
    State { id: "gain_ratio", unit: "1", about: "Y of the f-chart" },
    State { id: "solar_share", unit: "1", about: "share of the load that the sun covers" },
    State { id: "solar_heat", unit: "kWh", about: "heat from the sun in the month" },
    State { id: "backup_heat", unit: "kWh", about: "heat from the backup heater in the month" },
];

impl Bench for Household {
    fn id(&self) -> &'static str {
        "household"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "month", unit: "1", about: "whole month; 1 is January, 0 December before" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        store_fits(settings)?;
        let months: Vec<Month> = whole_months(at)?.into_iter().map(|month| Month::new(settings, month)).collect();
        months.iter().try_for_each(within_the_correlation)?;
        let column = |pick: &dyn Fn(&Month) -> f64| months.iter().map(pick).collect::<Vec<f64>>();
        let total = |pick: &dyn Fn(&Month) -> f64| months.iter().map(pick).sum::<f64>();
        let columns = vec![
            column(&|month| month.days),
            column(&|month| month.irradiation / KILOWATT_HOUR),
            column(&|month| month.light / KILOWATT_HOUR),
            column(&|month| month.air),
            column(&|month| month.mains),
            column(&|month| month.load / KILOWATT_HOUR),
            column(&|month| month.loss_ratio),
            column(&|month| month.gain_ratio),
            column(&|month| month.share),
            column(&|month| month.solar() / KILOWATT_HOUR),
            column(&|month| (month.load - month.solar()) / KILOWATT_HOUR),
        ];
        let energy = (!months.is_empty()).then(|| Energy {
            supplied: total(&|month| month.light + (1.0 - month.share) * month.load),
            stored: total(&|month| month.load),
            lost: total(&|month| month.light - month.solar()),
        });
        Ok(Run { columns, energy, limits: Vec::new() })
    }
}

/// The correction for the store holds for some sizes only.
fn store_fits(settings: &Settings) -> Result<(), BenchError> {
    let (area, value) = (settings.get("collector_area"), settings.get("store_volume"));
    let (low, high) = (STORES.0 * area, STORES.1 * area);
    if (low..=high).contains(&value) {
        Ok(())
    } else {
        Err(BenchError::OutOfRange { name: "store_volume", value, unit: "L", low, high })
    }
}

/// The correlation was not made for collectors that are far too large for the load.
fn within_the_correlation(month: &Month) -> Result<(), BenchError> {
    let both = [("loss_ratio", month.loss_ratio, MOST_LOSS), ("gain_ratio", month.gain_ratio, MOST_GAIN)];
    match both.into_iter().find(|(_, value, high)| value > high) {
        Some((name, value, high)) => Err(BenchError::OutOfRange { name, value, unit: "(X or Y)", low: 0.0, high }),
        None => Ok(()),
    }
}

/// The months asked for, which are whole and not beyond December.
fn whole_months(at: &[f64]) -> Result<Vec<usize>, BenchError> {
    ascending(at)?;
    let whole = |&value: &f64| {
        let inside = value <= 12.0 && libm::floor(value) == value;
        let refused = BenchError::OutOfRange { name: "month", value, unit: "whole months", low: 0.0, high: 12.0 };
        if inside { Ok(value as usize) } else { Err(refused) }
    };
    at.iter().map(whole).collect()
}
