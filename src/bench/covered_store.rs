//! Two like stores of water with like heaters, one bare and one in an insulating cover. They are heated for a while and then
//! left alone. In: settings and times in s. Out: true states. It must not read instruments.
//!
//! # Equations
//! Each: `(m c_p(T) + C_v) dT/dt = P − K (T − T_a)`, `P = U I` until the switching time and zero afterwards.
//! Loss of the bare store per kelvin: `K_b`; of the covered one: `K_c = 1 / (1/K_b + R)`, with the resistance of the cover
//! `R = δ / (k A)` in series with that of the air; see [`cover_resistance`].
//! Ledger: supplied `2 ∫ P dt`, stored and lost the sums over both, lost integrated with the states.
//! Limit: `T_a + P / K` while the heater is on, the room afterwards.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T, T_a | temperature of the water, of the room | °C |
//! | m, C_v | water in each store, heat capacity of each vessel | kg, J/K |
//! | U, I, P | voltage, current, power of each heater | V, A, W |
//! | δ, k, A | thickness, conductivity, area of the cover | m, W/(m K), m² |
//!
//! Sources: thermal resistances in series: Incropera, Fundamentals of Heat and Mass Transfer, section 3.1; water: IAPWS R6-95.
//!
//! # Validity
//! Water below 95 °C, stirred; closed lids, so that nothing evaporates; cover thin against the vessel, so that its inside and
//! outside have the same area; loss in proportion to the temperature difference; heat capacity of the cover left out.

use super::{
    Bench, BenchError, Energy, Input, Limit, Run, Settings, State, heated_vessel::HeatedVessel, input, store::Store,
};

/// The highest temperature of the water, °C.
const HIGHEST: f64 = 95.0;

/// The heaters stay on for the whole run where this is the switching time, s.
const ALL_DAY: f64 = 86_400.0;

/// The two stores.
#[derive(Debug, Clone, Copy)]
pub struct CoveredStore;

/// Resistance of a layer in K/W: thickness (m) over conductivity (W/(m K)) and area (m²).
pub fn cover_resistance(thickness: f64, conductivity: f64, area: f64) -> f64 {
    thickness / (conductivity * area)
}

/// Loss per kelvin in W/K of a vessel of which a layer of some resistance (K/W) covers the surface.
pub fn covered_loss(bare: f64, resistance: f64) -> f64 {
    1.0 / (1.0 / bare + resistance)
}

static INPUTS: &[Input] = &[
    input("water_mass", "kg", 0.2, (0.05, 1.0), "water in each store"),
    input("vessel_capacity", "J/K", 40.0, (0.0, 300.0), "heat capacity of each vessel"),
    input("bare_loss", "W/K", 0.35, (0.05, 1.0), "loss of the bare store per kelvin"),
    input("cover_thickness", "m", 0.01, (0.0, 0.03), "thickness of the cover"),
    input("cover_conductivity", "W/(m K)", 0.04, (0.02, 0.3), "thermal conductivity of the cover"),
    input("cover_area", "m2", 0.03, (0.01, 0.1), "area of the cover"),
    input("heater_voltage", "V", 12.0, (0.0, 24.0), "voltage of each heater"),
    input("heater_current", "A", 2.0, (0.0, 4.0), "current of each heater"),
    input("heating_time", "s", 1200.0, (0.0, ALL_DAY), "when both heaters are switched off"),
    input("start_excess", "K", 0.0, (-10.0, 70.0), "both stores at the start against the room"),
    input("room_temperature", "°C", 20.0, (5.0, 35.0), "temperature of the room"),
];

static STATES: &[State] = &[
    State { id: "bare_temperature", unit: "°C", about: "water in the bare store" },
    State { id: "covered_temperature", unit: "°C", about: "water in the covered store" },
    State { id: "bare_lost", unit: "J", about: "heat that the bare store has lost since the start" },
    State { id: "covered_lost", unit: "J", about: "heat that the covered store has lost since the start" },
    State { id: "supplied_heat", unit: "J", about: "heat that each heater has given off since the start" },
    State { id: "heater_voltage", unit: "V", about: "voltage of each heater while it is on" },
    State { id: "heater_current", unit: "A", about: "current of each heater while it is on" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

impl Bench for CoveredStore {
    fn id(&self) -> &'static str {
        "covered-store"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since the heaters were switched on" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        let (bare, covered) = vessels(settings);
        let (bare_run, covered_run) = (bare.solve(at)?, covered.solve(at)?);
        // The water is hottest at the start, at a reading, or where the heater goes off between readings.
        let end = at.last().copied().unwrap_or(0.0).min(covered.heating_time);
        let turn = covered.solve(&[end])?;
        let reached = turn.iter().chain(&bare_run).map(|warmth| warmth.water).fold(covered.start, f64::max);
        if reached > HIGHEST {
            return Err(BenchError::Overheated { part: "water", reached, highest: HIGHEST });
        }
        let constant = |name: &str| vec![settings.get(name); at.len()];
        let columns = vec![
            bare_run.iter().map(|warmth| warmth.water).collect(),
            covered_run.iter().map(|warmth| warmth.water).collect(),
            bare_run.iter().map(|warmth| warmth.lost).collect(),
            covered_run.iter().map(|warmth| warmth.lost).collect(),
            bare_run.iter().map(|warmth| warmth.supplied).collect(),
            constant("heater_voltage"),
            constant("heater_current"),
            constant("room_temperature"),
        ];
        let energy = bare_run.last().zip(covered_run.last()).map(|(one, other)| Energy {
            supplied: one.supplied + other.supplied,
            stored: bare.stored(one.water) + covered.stored(other.water),
            lost: one.lost + other.lost,
        });
        Ok(Run { columns, energy, limits: limits(&bare, &covered) })
    }
}

fn vessels(settings: &Settings) -> (HeatedVessel, HeatedVessel) {
    let of = |name| settings.get(name);
    let bare = of("bare_loss");
    let layer = cover_resistance(of("cover_thickness"), of("cover_conductivity"), of("cover_area"));
    let vessel = |loss| HeatedVessel {
        store: Store { water_mass: of("water_mass"), vessel_capacity: of("vessel_capacity"), loss_per_kelvin: loss },
        power: of("heater_voltage") * of("heater_current"),
        heating_time: of("heating_time"),
        room: of("room_temperature"),
        start: of("room_temperature") + of("start_excess"),
    };
    (vessel(bare), vessel(covered_loss(bare, layer)))
}

/// The room, or what the heaters would come to if they stay on; nothing where that would boil the water.
fn limits(bare: &HeatedVessel, covered: &HeatedVessel) -> Vec<Limit> {
    let end = |vessel: &HeatedVessel| {
        let power = if vessel.heating_time < ALL_DAY { 0.0 } else { vessel.power };
        vessel.room + power / vessel.store.loss_per_kelvin
    };
    let limits = [("bare_temperature", end(bare)), ("covered_temperature", end(covered))];
    limits.into_iter().filter(|(_, value)| *value <= HIGHEST).map(|(state, value)| Limit { state, value }).collect()
}
