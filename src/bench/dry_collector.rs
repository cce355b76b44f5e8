//! A collector without flow: the plate of a flat collector under a lamp that is moved away step by step. In: settings and
//! shifts of the lamp in m. Out: the plate's temperature after a wait at each. It must not read instruments.
//!
//! # Equations
//! Light: `G = s g r P / (4 π (d + x + d_0)²)`, see [`super::Lamp`].
//! Plate: `C dT/dt = A η_0 G − A (a_1 + a_2 |T − T_a|) (T − T_a)`, see [`super::Collector`]; it starts at `T_a` at the first
//! shift, and at each further one from the temperature it had.
//! Stagnation: gain = loss, so `T_s − T_a = (√(a_1² + 4 a_2 η_0 G) − a_1) / (2 a_2)`, see
//! [`super::Collector::stagnation_excess`].
//! Ledger: supplied `∫ A η_0 G dt`, lost `∫ loss dt`, both integrated with the state; stored `C ΔT`.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | x | shift of the lamp from its first place | m |
//! | d | distance of lamp and plate at the first place | m |
//! | t_w | wait at each place | s |
//! | T, T_s, T_a | temperature of the plate, its stagnation temperature, the room's | °C |
//! | s, g, r, P, d_0 | lamp, see [`super::Lamp`] | 1, 1, 1, W, m |
//! | G | mean irradiance on the plate | W/m² |
//! | A, η_0, a_1, a_2 | collector (quadratic form of ISO 9806), see [`super::Collector`] | m², 1, W/(m² K), W/(m² K²) |
//! | C | heat capacity of the empty plate | J/K |
//!
//! Sources: losses and stagnation: ISO 9806; one-node balance: Duffie and Beckman, Solar Engineering of Thermal Processes,
//! chapter 6 (quoted from memory).
//!
//! # Validity
//! An empty plate of one temperature, up to 150 °C, where paint and seals of a bench end; losses as in the laboratory, without
//! wind.

use super::{
    Bench, BenchError, Collector, Energy, Input, Lamp, Limit, Run, Settings, State, input,
    integrate::{Balances, TOLERANCE, ascending, integrate},
};

/// The highest temperature of the plate, °C.
const HIGHEST: f64 = 150.0;

/// The collector without flow.
#[derive(Debug, Clone, Copy)]
pub struct DryCollector;

static INPUTS: &[Input] = &[
    input("lamp_power", "W", 150.0, (20.0, 500.0), "electrical power of the lamp"),
    input("lamp_distance", "m", 0.28, (0.15, 1.0), "from the front of the reflector to the plate, at the first place"),
    input("lamp_radiant_share", "1", 0.85, (0.3, 0.95), "share of the lamp's power that leaves as light and heat rays"),
    input("lamp_gain", "1", 10.0, (1.0, 15.0), "gain of the reflector"),
    input("lamp_source_offset", "m", 0.02, (0.0, 0.1), "virtual source behind the front of the reflector"),
    input("lamp_evenness", "1", 0.92, (0.7, 1.0), "mean over the plate against the middle of the spot"),
    input("plate_area", "m2", 0.045, (0.02, 0.05), "area of the absorber"),
    input("optical_efficiency", "1", 0.92, (0.75, 0.95), "share of the light that the plate absorbs"),
    input("loss_linear", "W/(m2 K)", 13.0, (2.0, 25.0), "linear loss coefficient (bare 12-25, glazed 5-9)"),
    input("loss_quadratic", "W/(m2 K2)", 0.02, (0.0, 0.1), "quadratic loss coefficient"),
    input("plate_capacity", "J/K", 45.0, (20.0, 200.0), "heat capacity of the empty plate"),
    input("wait", "s", 600.0, (30.0, 3600.0), "wait at each place before the plate is read"),
    input("room_temperature", "°C", 20.0, (5.0, 40.0), "temperature of the room"),
];

static STATES: &[State] = &[
    State { id: "plate_temperature", unit: "°C", about: "plate after the wait" },
    State { id: "stagnation_temperature", unit: "°C", about: "plate after an endless wait" },
    State { id: "irradiance", unit: "W/m2", about: "mean irradiance on the plate" },
    State { id: "distance", unit: "m", about: "from the front of the reflector to the plate" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

/// The plate at one place of the lamp, in SI.
struct Place {
    collector: Collector,
    capacity: f64,
    light: f64,
    room: f64,
}

impl Balances<3> for Place {
    /// States: plate temperature, energy supplied, energy lost.
    fn rates(&self, _time: f64, &[plate, ..]: &[f64; 3]) -> [f64; 3] {
        let (gain, loss) = (self.collector.gain(self.light), self.collector.loss(plate - self.room));
        [(gain - loss) / self.capacity, gain, loss]
    }
}

impl Bench for DryCollector {
    fn id(&self) -> &'static str {
        "dry-collector"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "shift", unit: "m", about: "shift of the lamp away from its first place" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        ascending(at)?;
        let of = |name| settings.get(name);
        let lamp = Lamp::of(settings);
        let collector = Collector {
            area: of("plate_area"),
            optical_efficiency: of("optical_efficiency"),
            loss_linear: of("loss_linear"),
            loss_quadratic: of("loss_quadratic"),
            transfer: 0.0,
        };
        let (room, wait, capacity) = (of("room_temperature"), of("wait"), of("plate_capacity"));
        let mut columns = vec![Vec::with_capacity(at.len()); STATES.len()];
        let mut state = [room, 0.0, 0.0];
        for shift in at {
            let distance = of("lamp_distance") + shift;
            let light = lamp.irradiance(distance);
            let stagnation = room + collector.stagnation_excess(light);
            if stagnation > HIGHEST {
                return Err(BenchError::Overheated { part: "plate", reached: stagnation, highest: HIGHEST });
            }
            let place = Place { collector, capacity, light, room };
            state = integrate(&place, state, &[wait], TOLERANCE)?[0];
            let row = [state[0], stagnation, light, distance, room];
            columns.iter_mut().zip(row).for_each(|(column, value)| column.push(value));
        }
        let limit = columns[1].last().map(|&value| Limit { state: "plate_temperature", value });
        let [plate, supplied, lost] = state;
        let energy = Some(Energy { supplied, stored: capacity * (plate - room), lost });
        Ok(Run { columns, energy, limits: limit.into_iter().collect() })
    }
}
