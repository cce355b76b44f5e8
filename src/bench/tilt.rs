//! A flat plate with a stream of water that is turned before a lamp. In: its settings and angles of incidence in °.
//! Out: its steady states. It must not read instruments, and it stores no heat: each angle is held until nothing changes.
//!
//! # Equations
//! Light square on the plate: `G_0 = s g r P / (4 π (d + d_0)²)`, see [`super::Lamp`].
//! Light on the turned plate: `G = G_0 F(θ, δ)`, for a narrow beam `G_0 cos θ`, see [`super::incidence::fanned_cosine`].
//! Absorbed: `N = A η_0 K(θ) G`, `K = 1 − b_0 (1/cos θ − 1)`, see [`super::incidence::modifier`].
//! Plate: `N = A (a_1 + a_2 |T_p − T_a|) (T_p − T_a) + Q`, `Q = k (T_p − T_in)`, see [`super::Collector::coupling`].
//! Outlet: `T_out = T_in + Q / (ṁ c)`, `c = c_p(T_in)`.
//! Ledger, of a minute at the last angle: supplied `N`, stored `ṁ c (T_out − T_in)` in the water that has run through, lost
//! `A (a_1 + a_2 |T_p − T_a|) (T_p − T_a)`.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | θ | angle between the beam and the normal of the plate | ° |
//! | δ | half width of the beam's fan | ° |
//! | A, η_0, a_1, a_2, UA | collector, see [`super::Collector`] | m², 1, W/(m² K), W/(m² K²), W/K |
//! | b_0 | coefficient of the incidence angle modifier; 0 without glass | 1 |
//! | T_p, T_in, T_out, T_a | temperature of plate, water that enters, that leaves, room | °C |
//! | ṁ | mass flow | kg/s |
//!
//! Sources: cosine law; Souka and Safwat for K; Hottel, Whillier and Bliss for the stream (quoted from memory).
//!
//! # Validity
//! Plate turned about an axis through its middle, small against the distance of the lamp; water between 0 and 95 °C;
//! the coefficient b_0 fitted below 60° and used beyond (common practice, no source).

use super::{
    Bench, BenchError, Collector, Energy, Input, Lamp, Run, Settings, State, incidence, input, integrate::ascending,
    steady::Steady, water,
};

/// The highest temperature of the water, °C.
const HIGHEST: f64 = 95.0;

/// The minute of the ledger, s.
const MINUTE: f64 = 60.0;

/// The collector that is turned before a lamp.
#[derive(Debug, Clone, Copy)]
pub struct TiltedCollector;

static INPUTS: &[Input] = &[
    input("lamp_power", "W", 150.0, (20.0, 500.0), "electrical power of the lamp"),
    input("lamp_distance", "m", 0.40, (0.15, 2.0), "from the front of the reflector to the axis of the plate"),
    input("lamp_radiant_share", "1", 0.85, (0.3, 0.95), "share of the lamp's power that leaves as light and heat rays"),
    input("lamp_gain", "1", 14.0, (1.0, 15.0), "gain of the reflector"),
    input("lamp_source_offset", "m", 0.03, (0.0, 0.1), "virtual source behind the front of the reflector"),
    input("lamp_evenness", "1", 0.95, (0.7, 1.0), "mean over the plate against the middle of the spot"),
    input("beam_half_width", "°", 5.0, (0.0, 20.0), "half width of the beam's fan"),
    input("plate_area", "m2", 0.04, (0.02, 0.05), "area of the absorber"),
    input(
        "optical_efficiency",
        "1",
        0.85,
        (0.7, 0.95),
        "share of the light that the plate absorbs at square incidence",
    ),
    input(
        "incidence_coefficient",
        "1",
        0.10,
        (0.0, 0.2),
        "coefficient of the incidence angle modifier, 0 without glass",
    ),
    input("loss_linear", "W/(m2 K)", 7.0, (2.0, 25.0), "linear loss coefficient of the plate (bare 12-25, glazed 5-9)"),
    input("loss_quadratic", "W/(m2 K2)", 0.02, (0.0, 0.1), "quadratic loss coefficient of the plate"),
    input("plate_transfer", "W/K", 8.0, (0.5, 30.0), "heat transfer from plate to water"),
    input("flow", "g/s", 1.0, (0.5, 10.0), "mass flow"),
    input("inlet_excess", "K", 0.0, (-5.0, 50.0), "water that enters against the room"),
    input("room_temperature", "°C", 20.0, (5.0, 40.0), "temperature of the room"),
];

static STATES: &[State] = &[
    State { id: "inlet_temperature", unit: "°C", about: "water as it enters the collector" },
    State { id: "outlet_temperature", unit: "°C", about: "water as it leaves the collector" },
    State { id: "plate_temperature", unit: "°C", about: "absorber plate, mean" },
    State { id: "irradiance", unit: "W/m2", about: "irradiance on the surface of the turned plate" },
    State { id: "square_irradiance", unit: "W/m2", about: "irradiance on a surface square to the beam" },
    State { id: "absorbed_power", unit: "W", about: "light that the plate absorbs" },
    State { id: "useful_power", unit: "W", about: "heat that the stream takes from the plate" },
    State { id: "modifier", unit: "1", about: "incidence angle modifier" },
    State { id: "volume_flow", unit: "mL/s", about: "volume flow, at the temperature of the inlet" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

/// What holds at one angle.
struct Held {
    irradiance: f64,
    modifier: f64,
    absorbed: f64,
    steady: Steady,
}

impl Bench for TiltedCollector {
    fn id(&self) -> &'static str {
        "tilted-collector"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "angle", unit: "°", about: "angle of incidence, between the beam and the normal of the plate" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        ascending(at)?;
        let (low, high) = (0.0, 90.0);
        if let Some(&value) = at.iter().find(|&&angle| angle > high * (1.0 + 1e-12)) {
            return Err(BenchError::OutOfRange { name: "angle", value, unit: "°", low, high });
        }
        let room = settings.get("room_temperature");
        let inlet = room + settings.get("inlet_excess");
        let flow = settings.get("flow") / 1000.0;
        let (collector, square) = (collector(settings), light(settings));
        let held: Vec<Held> = at.iter().map(|&angle| hold(settings, angle)).collect();
        if let Some(limit) = held.iter().map(|now| now.steady.outlet.max(inlet)).find(|&hottest| hottest > HIGHEST) {
            return Err(BenchError::TooHot { limit, highest: HIGHEST });
        }
        let column = |pick: &dyn Fn(&Held) -> f64| held.iter().map(pick).collect::<Vec<f64>>();
        let constant = |value: f64| vec![value; at.len()];
        let columns = vec![
            constant(inlet),
            column(&|now| now.steady.outlet),
            column(&|now| now.steady.plate),
            column(&|now| now.irradiance),
            constant(square),
            column(&|now| now.absorbed),
            column(&|now| now.steady.useful),
            column(&|now| now.modifier),
            constant(1e6 * flow / water::density(inlet)),
            constant(room),
        ];
        let energy = held.last().map(|now| Energy {
            supplied: MINUTE * now.absorbed,
            stored: MINUTE * flow * water::heat_capacity(inlet) * (now.steady.outlet - inlet),
            lost: MINUTE * collector.loss(now.steady.plate - room),
        });
        Ok(Run { columns, energy, limits: Vec::new() })
    }
}

fn collector(settings: &Settings) -> Collector {
    Collector {
        area: settings.get("plate_area"),
        optical_efficiency: settings.get("optical_efficiency"),
        loss_linear: settings.get("loss_linear"),
        loss_quadratic: settings.get("loss_quadratic"),
        transfer: settings.get("plate_transfer"),
    }
}

/// Irradiance on a surface square to the beam, W/m².
fn light(settings: &Settings) -> f64 {
    let lamp = Lamp::of(settings);
    lamp.irradiance(settings.get("lamp_distance"))
}

/// The steady state at an angle in °.
fn hold(settings: &Settings, angle: f64) -> Held {
    let room = settings.get("room_temperature");
    let inlet = room + settings.get("inlet_excess");
    let rate = settings.get("flow") / 1000.0 * water::heat_capacity(inlet);
    let collector = collector(settings);
    let angle = angle.min(90.0).to_radians();
    let width = settings.get("beam_half_width").to_radians();
    let irradiance = light(settings) * incidence::fanned_cosine(angle, width);
    let modifier = incidence::modifier(settings.get("incidence_coefficient"), angle);
    let absorbed = modifier * collector.gain(irradiance);
    Held { irradiance, modifier, absorbed, steady: Steady::of(&collector, absorbed, rate, inlet, room) }
}
