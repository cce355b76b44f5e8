//! Four like vessels of hot water in different insulation, side by side. In: settings and times in s. Out: true states.
//! It must not rank them: that is for students.
//!
//! # Equations
//! Each vessel n follows the balance of the bench `vessel`, closed and without a heater:
//! `(m c_p(T_n) + C_v) dT_n/dt = −K_n (T_n − T_a)`, `K_n = A / (t_n/k_n + 1/h) + K_l`, `dT_s,n/dt = (T_n − T_s,n) / τ_s`.
//! Ledger: the sum over the four; nothing is supplied. Limit: the room.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T_n, T_s,n, T_a | temperature of water and sensor of vessel n, of the room | °C |
//! | m, C_v, A, h, K_l | as on the bench `vessel`, the same for all four | kg, J/K, m², W/(m² K), W/K |
//! | t_n, k_n | thickness and conductivity of the layer around vessel n; thickness zero: bare | m, W/(m K) |
//! | τ_s | lag of the thermometers | s |
//!
//! Sources and validity: those of the bench `vessel`; layers thin against the radius of the vessel.

use super::{
    Bench, BenchError, Energy, Input, Limit, Run, Settings, State, evaporation::OpenSurface, input, insulation::Wall,
    store::Store, vessel::Model,
};

/// Four vessels in different insulation.
#[derive(Debug, Clone, Copy)]
pub struct InsulatedVessels;

const THICKNESS: (f64, f64) = (0.0, 0.05);
const CONDUCTIVITY: (f64, f64) = (0.02, 1.5);

static INPUTS: &[Input] = &[
    input("water_mass", "kg", 0.2, (0.05, 1.5), "water in each vessel"),
    input("vessel_capacity", "J/K", 60.0, (0.0, 500.0), "heat capacity of each vessel"),
    input("wall_area", "m2", 0.03, (0.005, 0.12), "area of each wall"),
    input("film", "W/(m2 K)", 10.0, (4.0, 25.0), "air film and radiation outside"),
    input("lid_loss", "W/K", 0.02, (0.0, 0.3), "loss through each lid and stand per kelvin"),
    input("probe_lag", "s", 8.0, (1.0, 60.0), "time constant of the thermometers"),
    input("room_temperature", "°C", 20.0, (10.0, 35.0), "temperature of the room"),
    input("start_temperature", "°C", 75.0, (25.0, 92.0), "water at the first reading"),
    input("thickness_1", "m", 0.0, THICKNESS, "layer around vessel 1"),
    input("thickness_2", "m", 0.01, THICKNESS, "layer around vessel 2"),
    input("thickness_3", "m", 0.01, THICKNESS, "layer around vessel 3"),
    input("thickness_4", "m", 0.01, THICKNESS, "layer around vessel 4"),
    input("conductivity_1", "W/(m K)", 0.04, CONDUCTIVITY, "conductivity of the layer around vessel 1"),
    input("conductivity_2", "W/(m K)", 0.16, CONDUCTIVITY, "conductivity of the layer around vessel 2"),
    input("conductivity_3", "W/(m K)", 0.042, CONDUCTIVITY, "conductivity of the layer around vessel 3"),
    input("conductivity_4", "W/(m K)", 0.036, CONDUCTIVITY, "conductivity of the layer around vessel 4"),
];

static STATES: &[State] = &[
    State { id: "temperature_1", unit: "°C", about: "sensor in vessel 1" },
    State { id: "temperature_2", unit: "°C", about: "sensor in vessel 2" },
    State { id: "temperature_3", unit: "°C", about: "sensor in vessel 3" },
    State { id: "temperature_4", unit: "°C", about: "sensor in vessel 4" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

/// The layers by vessel: thickness and conductivity.
const LAYERS: [(&str, &str); 4] = [
    ("thickness_1", "conductivity_1"),
    ("thickness_2", "conductivity_2"),
    ("thickness_3", "conductivity_3"),
    ("thickness_4", "conductivity_4"),
];

fn vessels(settings: &Settings) -> [Model; 4] {
    let of = |name| settings.get(name);
    LAYERS.map(|(thickness, conductivity)| {
        let wall =
            Wall { area: of("wall_area"), film: of("film"), thickness: of(thickness), conductivity: of(conductivity) };
        Model {
            store: Store {
                water_mass: of("water_mass"),
                vessel_capacity: of("vessel_capacity"),
                loss_per_kelvin: wall.loss_per_kelvin() + of("lid_loss"),
            },
            surface: OpenSurface { area: 0.0, film: 0.0, humidity: 0.0 },
            heater: 0.0,
            heat_share: 1.0,
            probe_lag: of("probe_lag"),
            room: of("room_temperature"),
            start: of("start_temperature"),
        }
    })
}

impl Bench for InsulatedVessels {
    fn id(&self) -> &'static str {
        "insulated-vessels"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since the first reading" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        let mut columns = Vec::new();
        let (mut stored, mut lost) = (0.0, 0.0);
        for vessel in vessels(settings) {
            let states = vessel.solve(at)?;
            if let Some(energy) = states.last().map(|state| vessel.energy(state)) {
                stored += energy.stored;
                lost += energy.lost;
            }
            columns.push(states.iter().map(|state| state[1]).collect());
        }
        let room = settings.get("room_temperature");
        columns.push(vec![room; at.len()]);
        let limits = STATES.iter().take(LAYERS.len()).map(|state| Limit { state: state.id, value: room }).collect();
        let energy = (!at.is_empty()).then_some(Energy { supplied: 0.0, stored, lost });
        Ok(Run { columns, energy, limits })
    }
}
