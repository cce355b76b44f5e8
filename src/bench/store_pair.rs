//! Paraffin and water in like vessels, which start equally warm and cool side by side. In: settings and times in s.
//! Out: true states. It must not read instruments.
//!
//! # Equations
//! Paraffin: the balance of the paraffin store without heater and with a wall of no resistance, `dE/dt = −K (T_p − T_a)`, with
//! `E = m_p h(T_p) + C_v T_p` of [`super::Wax`]; the melt may cool below its melting range before it freezes.
//! Water, stirred: `(m_w c_p(T_w) + C_v) dT_w/dt = −K (T_w − T_a)`.
//! Ledger: nothing is supplied; stored and lost are the sums over both vessels. Limit: the room.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T_p, T_w, T_a | paraffin, water, room | °C |
//! | m_p, m_w | mass of paraffin, of water | kg |
//! | C_v, K | heat capacity and loss per kelvin of each vessel | J/K, W/K |
//!
//! Sources: those of [`super::ParaffinStore`]; water: IAPWS R6-95.
//!
//! # Validity
//! Both below 95 °C and each of one temperature (thin layers, fins); the same loss from both vessels at the same temperature;
//! the thermometers' lag of seconds left out, as the temperatures change within minutes.

use super::{
    Bench, BenchError, Energy, Input, Limit, Run, Settings, State, Wax,
    heated_vessel::HeatedVessel,
    input,
    paraffin_store::{model::Model, path::Path},
    store::Store,
};

/// The highest temperature of the start, °C.
const HIGHEST: f64 = 95.0;

/// The two stores.
#[derive(Debug, Clone, Copy)]
pub struct StorePair;

static INPUTS: &[Input] = &[
    input("paraffin_mass", "kg", 0.08, (0.02, 0.2), "paraffin in its vessel"),
    input("water_mass", "kg", 0.08, (0.02, 0.3), "water in its vessel"),
    input("melting_temperature", "°C", 55.0, (40.0, 65.0), "melting temperature, the middle of the melting range"),
    input("melting_range", "K", 2.0, (0.0, 6.0), "width of the melting range"),
    input("latent_heat", "kJ/kg", 180.0, (120.0, 260.0), "heat of fusion"),
    input("solid_heat_capacity", "J/(kg K)", 2100.0, (1800.0, 3000.0), "specific heat capacity of the solid"),
    input("liquid_heat_capacity", "J/(kg K)", 2300.0, (1800.0, 2600.0), "specific heat capacity of the liquid"),
    input("supercooling", "K", 0.0, (0.0, 3.0), "how far below the melting range the liquid cools before it freezes"),
    input("vessel_capacity", "J/K", 20.0, (0.0, 100.0), "heat capacity of each vessel"),
    input("loss", "W/K", 0.4, (0.02, 0.6), "loss of each vessel per kelvin"),
    input("room_temperature", "°C", 20.0, (5.0, 35.0), "temperature of the room"),
    input("start_temperature", "°C", 70.0, (30.0, HIGHEST), "both stores at the start"),
];

static STATES: &[State] = &[
    State { id: "paraffin_temperature", unit: "°C", about: "the paraffin" },
    State { id: "water_temperature", unit: "°C", about: "the water, stirred" },
    State { id: "molten_share", unit: "1", about: "share of the paraffin that is liquid" },
    State { id: "paraffin_heat", unit: "J", about: "heat given off by paraffin and vessel since the start" },
    State { id: "water_heat", unit: "J", about: "heat given off by water and vessel since the start" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

impl Bench for StorePair {
    fn id(&self) -> &'static str {
        "store-pair"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since the stores were put down" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        let (vessel, path) = (water(settings), Path::new(paraffin(settings)));
        let waters = vessel.solve(at)?;
        let moments: Vec<_> = at.iter().map(|&time| path.at(time)).collect();
        let columns = vec![
            moments.iter().map(|moment| moment.paraffin).collect(),
            waters.iter().map(|warmth| warmth.water).collect(),
            moments.iter().map(|moment| moment.molten).collect(),
            moments.iter().map(|moment| -moment.heat[1]).collect(),
            waters.iter().map(|warmth| -vessel.stored(warmth.water)).collect(),
            vec![vessel.room; at.len()],
        ];
        let energy = moments.last().zip(waters.last()).map(|(moment, warmth)| Energy {
            supplied: 0.0,
            stored: moment.heat[1] + vessel.stored(warmth.water),
            lost: moment.heat[2] + warmth.lost,
        });
        let limits =
            ["paraffin_temperature", "water_temperature"].map(|state| Limit { state, value: vessel.room }).to_vec();
        Ok(Run { columns, energy, limits })
    }
}

fn water(settings: &Settings) -> HeatedVessel {
    let of = |name| settings.get(name);
    HeatedVessel {
        store: Store {
            water_mass: of("water_mass"),
            vessel_capacity: of("vessel_capacity"),
            loss_per_kelvin: of("loss"),
        },
        power: 0.0,
        heating_time: 0.0,
        room: of("room_temperature"),
        start: of("start_temperature"),
    }
}

fn paraffin(settings: &Settings) -> Model {
    let of = |name| settings.get(name);
    Model {
        wax: Wax {
            melting: of("melting_temperature"),
            range: of("melting_range"),
            latent: 1000.0 * of("latent_heat"),
            solid: of("solid_heat_capacity"),
            liquid: of("liquid_heat_capacity"),
        },
        mass: of("paraffin_mass"),
        supercooling: of("supercooling"),
        vessel_capacity: of("vessel_capacity"),
        loss_per_kelvin: of("loss"),
        resistance: 0.0,
        power: 0.0,
        heating_time: 0.0,
        room: of("room_temperature"),
        start: of("start_temperature"),
        probe_lag: 0.0,
    }
}
