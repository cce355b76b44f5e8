//! The pumped collector loop: lamp, flat plate, pump, vessel. In: its settings and times in s. Out: its true states.
//! It must not read instruments: what a thermometer shows is made elsewhere.
//!
//! # Equations
//! Plate: `C_p dT_p/dt = A η_0 G − A (a_1 + a_2 |T_p − T_a|) (T_p − T_a) − Q`.
//! Passage from plate to stream: `Q = ṁ c ε (T_p − T_w)` with `ε = 1 − exp(−UA / (ṁ c))`.
//! Vessel, stirred: `(m c(T_w) + C_v) dT_w/dt = Q + φ U I − K_v (T_w − T_a)`.
//! Ledger: supplied `A η_0 G + φ U I`, lost: the two loss terms; stored is the enthalpy of water, plate and vessel.
//! Limit: both rates zero; the plate's temperature follows from the vessel's balance, which leaves one equation in T_w.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T_p, T_w, T_a | temperature of plate, water, room | °C |
//! | A, η_0, a_1, a_2 | collector (ISO 9806 form), see [`super::Collector`] | m², 1, W/(m² K), W/(m² K²) |
//! | G | irradiance from the lamp, see [`super::Lamp`] | W/m² |
//! | C_p, C_v | heat capacity of plate, vessel and hoses | J/K |
//! | m, c(T) | mass and specific heat capacity of the water, see [`super::water`] | kg, J/(kg K) |
//! | ṁ, UA | mass flow, heat transfer from plate to stream | kg/s, W/K |
//! | U, I, φ | voltage and current of the pump, share of its power that ends in the water | V, A, 1 |
//! | K_v | loss of vessel and hoses per kelvin | W/K |
//!
//! Source: two-node collector balance with a stirred store (Duffie and Beckman, Solar Engineering of Thermal Processes,
//! chapters 6 and 10; quoted from memory). Valid for liquid water up to 95 °C.

use super::{
    Bench, BenchError, Collector, Energy, Input, Lamp, Limit, Run, Settings, State,
    integrate::{Balances, TOLERANCE, integrate},
    root, water,
};

/// The highest temperature of the water that the bench may tend to, °C.
const HIGHEST: f64 = 95.0;

/// The pumped collector loop.
#[derive(Debug, Clone, Copy)]
pub struct PumpedLoop;

const fn input(name: &'static str, unit: &'static str, default: f64, valid: (f64, f64), about: &'static str) -> Input {
    Input { name, unit, default, valid, about }
}

static INPUTS: &[Input] = &[
    input("lamp_power", "W", 150.0, (20.0, 500.0), "electrical power of the lamp"),
    input("lamp_distance", "m", 0.30, (0.15, 1.0), "from the front of the reflector to the plate"),
    input("lamp_radiant_share", "1", 0.85, (0.3, 0.95), "share of the lamp's power that leaves as light and heat rays"),
    input("lamp_gain", "1", 10.0, (1.0, 15.0), "gain of the reflector"),
    input("lamp_source_offset", "m", 0.02, (0.0, 0.1), "virtual source behind the front of the reflector"),
    input("lamp_evenness", "1", 0.92, (0.7, 1.0), "mean over the plate against the middle of the spot"),
    input("plate_area", "m2", 0.045, (0.01, 0.25), "area of the absorber"),
    input("optical_efficiency", "1", 0.92, (0.3, 0.97), "share of the light that the plate absorbs"),
    input("loss_linear", "W/(m2 K)", 13.0, (2.0, 30.0), "linear loss coefficient of the collector"),
    input("loss_quadratic", "W/(m2 K2)", 0.05, (0.0, 0.3), "quadratic loss coefficient of the collector"),
    input("plate_capacity", "J/K", 60.0, (5.0, 500.0), "heat capacity of plate and the water in it"),
    input("plate_transfer", "W/K", 8.0, (0.5, 100.0), "heat transfer from plate to stream"),
    input("water_mass", "kg", 0.15, (0.03, 3.0), "water in the vessel"),
    input("vessel_capacity", "J/K", 40.0, (0.0, 500.0), "heat capacity of vessel and hoses"),
    input("vessel_loss", "W/K", 0.12, (0.0, 2.0), "loss of vessel and hoses per kelvin"),
    input("flow", "g/s", 5.0, (0.5, 50.0), "mass flow of the loop"),
    input("pump_voltage", "V", 7.5, (0.0, 12.0), "voltage of the pump"),
    input("pump_current", "A", 0.22, (0.0, 1.5), "current of the pump"),
    input("pump_heat_share", "1", 0.8, (0.0, 1.0), "share of the pump's power that ends in the water"),
    input("room_temperature", "°C", 20.0, (5.0, 40.0), "temperature of the room"),
    input("start_excess", "K", 0.0, (-10.0, 30.0), "water and plate at the start against the room"),
];

static STATES: &[State] = &[
    State { id: "water_temperature", unit: "°C", about: "water in the vessel, stirred" },
    State { id: "plate_temperature", unit: "°C", about: "absorber plate" },
    State { id: "outlet_temperature", unit: "°C", about: "water as it leaves the collector" },
    State { id: "irradiance", unit: "W/m2", about: "mean irradiance on the plate" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
    State { id: "pump_voltage", unit: "V", about: "voltage of the pump" },
    State { id: "pump_current", unit: "A", about: "current of the pump" },
    State { id: "flow", unit: "g/s", about: "mass flow of the loop" },
    State { id: "useful_power", unit: "W", about: "heat that the stream takes from the plate" },
];

impl Bench for PumpedLoop {
    fn id(&self) -> &'static str {
        "pumped-loop"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since the lamp shines on the plate" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        run_with(self, settings, at, TOLERANCE)
    }
}

impl PumpedLoop {
    /// A run with another relative tolerance of the solver than the usual one, to see what the tolerance is worth.
    ///
    /// # Errors
    /// As [`Bench::run`].
    pub fn run_with_tolerance(&self, settings: &Settings, at: &[f64], share: f64) -> Result<Run, BenchError> {
        run_with(self, settings, at, TOLERANCE * share)
    }
}

fn run_with(bench: &PumpedLoop, settings: &Settings, at: &[f64], tolerance: f64) -> Result<Run, BenchError> {
    settings.check(bench)?;
    let model = Model::new(settings);
    let (plate_limit, water_limit) = model.limit();
    if water_limit > HIGHEST {
        return Err(BenchError::TooHot { limit: water_limit, highest: HIGHEST });
    }
    let start = model.room + settings.get("start_excess");
    let states = integrate(&model, [start, start, 0.0, 0.0], at, tolerance)?;
    let column = |pick: &dyn Fn(&[f64; 4]) -> f64| states.iter().map(pick).collect::<Vec<f64>>();
    let constant = |name: &str| vec![settings.get(name); at.len()];
    let columns = vec![
        column(&|state| state[1]),
        column(&|state| state[0]),
        column(&|state| model.outlet(state[0], state[1])),
        vec![model.irradiance; at.len()],
        constant("room_temperature"),
        constant("pump_voltage"),
        constant("pump_current"),
        constant("flow"),
        column(&|state| model.passage(state[0], state[1])),
    ];
    let energy = states.last().map(|end| Energy {
        supplied: end[2],
        lost: end[3],
        stored: model.plate_capacity * (end[0] - start)
            + model.vessel_capacity * (end[1] - start)
            + model.water_mass * (water::enthalpy(end[1]) - water::enthalpy(start)),
    });
    let limits = vec![
        Limit { state: "water_temperature", value: water_limit },
        Limit { state: "plate_temperature", value: plate_limit },
    ];
    Ok(Run { columns, energy, limits })
}

/// The bench in SI.
struct Model {
    collector: Collector,
    irradiance: f64,
    plate_capacity: f64,
    vessel_capacity: f64,
    vessel_loss: f64,
    water_mass: f64,
    flow: f64,
    pump_heat: f64,
    room: f64,
}

impl Model {
    fn new(settings: &Settings) -> Self {
        let lamp = Lamp {
            power: settings.get("lamp_power"),
            radiant_share: settings.get("lamp_radiant_share"),
            gain: settings.get("lamp_gain"),
            source_offset: settings.get("lamp_source_offset"),
            evenness: settings.get("lamp_evenness"),
        };
        Self {
            collector: Collector {
                area: settings.get("plate_area"),
                optical_efficiency: settings.get("optical_efficiency"),
                loss_linear: settings.get("loss_linear"),
                loss_quadratic: settings.get("loss_quadratic"),
                transfer: settings.get("plate_transfer"),
            },
            irradiance: lamp.irradiance(settings.get("lamp_distance")),
            plate_capacity: settings.get("plate_capacity"),
            vessel_capacity: settings.get("vessel_capacity"),
            vessel_loss: settings.get("vessel_loss"),
            water_mass: settings.get("water_mass"),
            flow: settings.get("flow") / 1000.0,
            pump_heat: settings.get("pump_heat_share") * settings.get("pump_voltage") * settings.get("pump_current"),
            room: settings.get("room_temperature"),
        }
    }

    /// Heat that the stream takes up per kelvin between plate and water, W/K.
    fn coupling(&self, water: f64) -> f64 {
        let rate = self.flow * water::heat_capacity(water);
        rate * self.collector.effectiveness(rate)
    }

    /// Heat that passes from plate to stream, W.
    fn passage(&self, plate: f64, water: f64) -> f64 {
        self.coupling(water) * (plate - water)
    }

    fn outlet(&self, plate: f64, water: f64) -> f64 {
        water + self.passage(plate, water) / (self.flow * water::heat_capacity(water))
    }

    /// What is left on the plate, W.
    fn plate_rest(&self, plate: f64, water: f64) -> f64 {
        self.collector.gain(self.irradiance) - self.collector.loss(plate - self.room) - self.passage(plate, water)
    }

    /// What is left in the vessel, W.
    fn vessel_rest(&self, plate: f64, water: f64) -> f64 {
        self.passage(plate, water) + self.pump_heat - self.vessel_loss * (water - self.room)
    }

    /// Temperatures of plate and water at which nothing changes, °C.
    fn limit(&self) -> (f64, f64) {
        let plate_of =
            |water: f64| water + (self.vessel_loss * (water - self.room) - self.pump_heat) / self.coupling(water);
        // Above 150 °C the correlations of water end; a limit there is refused anyway.
        let water = root::falling(self.room - 20.0, 150.0, |water| self.plate_rest(plate_of(water), water));
        (plate_of(water), water)
    }
}

impl Balances<4> for Model {
    /// States: plate temperature, water temperature, energy supplied, energy lost.
    fn rates(&self, _: f64, &[plate, water, ..]: &[f64; 4]) -> [f64; 4] {
        let vessel = self.water_mass * water::heat_capacity(water) + self.vessel_capacity;
        [
            self.plate_rest(plate, water) / self.plate_capacity,
            self.vessel_rest(plate, water) / vessel,
            self.collector.gain(self.irradiance) + self.pump_heat,
            self.collector.loss(plate - self.room) + self.vessel_loss * (water - self.room),
        ]
    }
}
