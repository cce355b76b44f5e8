//! A trough and a flat plate side by side in the same sun, each with a stream of water that enters warmer and warmer. In:
//! settings and excesses of the entering water over the air in K. Out: steady states. It must not read instruments, and it
//! stores no heat: each excess is held until nothing changes.
//!
//! # Equations
//! Trough: `N_t` as in [`crate::bench::Mirror`], loss over the tube `A_r = π D L`. Plate: `N_p = A_p η_0 G cos θ K(θ)`.
//! Each: `N = A (U_1 + U_2 |ΔT|) ΔT + Q`, `Q = k (T − T_in)`, see [`crate::bench::Collector::coupling`], which is the useful
//! heat of Hottel, Whillier and Bliss; outlet `T_out = T_in + Q / (ṁ c)`, `c = c_p(T_in)`.
//! Efficiency over each one's own aperture: `η_t = Q_t / (a L G)`, `η_p = Q_p / (A_p G)`. Over `(T − T_a)/G` the slope is
//! `U_1 / C_a` for the trough, `C_a = a / (π D)`, and U_1 for the plate, with T the mean temperature of tube or plate.
//! Ledger, of a minute at the last excess, of both together: supplied N, stored `ṁ c (T_out − T_in)` in the water that has
//! run through, lost the losses.
//!
//! Sources: Duffie and Beckman, Solar Engineering of Thermal Processes, chapters 6 and 7 (quoted from memory).
//!
//! # Validity
//! Water between 0 and 95 °C; light in one beam, so that the trough misses none of it by looking only one way.

use super::{
    HIGHEST,
    parts::{self, COMMON, joined},
};
use crate::bench::{
    Bench, BenchError, Collector, Energy, Input, Run, Settings, State, incidence, input, integrate::ascending,
    steady::Steady, water,
};

/// The minute of the ledger, s.
const MINUTE: f64 = 60.0;

/// The trough and the flat plate side by side.
#[derive(Debug, Clone, Copy)]
pub struct TroughAgainstPlate;

static INPUTS: [Input; 24] = joined(
    COMMON,
    [
        input(
            "tube_offset",
            "mm",
            0.0,
            (-50.0, 50.0),
            "middle of the tube behind the focal line, as seen from the mirror",
        ),
        input("tube_transfer", "W/K", 6.0, (0.5, 20.0), "heat transfer from tube to water"),
        input("trough_flow", "g/s", 1.2, (0.5, 10.0), "mass flow through the trough"),
        input("plate_area", "m2", 0.045, (0.02, 0.1), "area of the plate"),
        input("plate_optical_efficiency", "1", 0.82, (0.7, 0.95), "share of the light that the plate absorbs"),
        input("plate_loss", "W/(m2 K)", 7.0, (2.0, 25.0), "linear loss coefficient of the plate"),
        input("plate_loss_quadratic", "W/(m2 K2)", 0.02, (0.0, 0.1), "quadratic loss coefficient of the plate"),
        input("plate_transfer", "W/K", 8.0, (0.5, 30.0), "heat transfer from plate to water"),
        input("plate_flow", "g/s", 1.2, (0.5, 10.0), "mass flow through the plate"),
    ],
);

static STATES: &[State] = &[
    State { id: "inlet_temperature", unit: "°C", about: "water as it enters both" },
    State { id: "trough_outlet", unit: "°C", about: "water as it leaves the trough" },
    State { id: "plate_outlet", unit: "°C", about: "water as it leaves the plate" },
    State { id: "trough_efficiency", unit: "1", about: "useful power of the trough over the light on its aperture" },
    State { id: "plate_efficiency", unit: "1", about: "useful power of the plate over the light on it" },
    State { id: "tube_temperature", unit: "°C", about: "tube of the trough, mean" },
    State { id: "plate_temperature", unit: "°C", about: "absorber plate, mean" },
    State { id: "trough_useful_power", unit: "W", about: "heat that the stream takes from the tube" },
    State { id: "plate_useful_power", unit: "W", about: "heat that the stream takes from the plate" },
    State { id: "trough_volume_flow", unit: "mL/s", about: "volume flow through the trough, at the inlet" },
    State { id: "plate_volume_flow", unit: "mL/s", about: "volume flow through the plate, at the inlet" },
    State { id: "irradiance", unit: "W/m2", about: "irradiance square to the beam" },
    State { id: "room_temperature", unit: "°C", about: "the air" },
];

impl Bench for TroughAgainstPlate {
    fn id(&self) -> &'static str {
        "trough-against-plate"
    }

    fn inputs(&self) -> &'static [Input] {
        &INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "inlet_excess", unit: "K", about: "entering water against the air" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        ascending(at)?;
        let of = |name| settings.get(name);
        let (room, light) = (of("room_temperature"), of("irradiance"));
        let tube = parts::surface(settings, of("tube_transfer"));
        let plate = Collector {
            area: of("plate_area"),
            optical_efficiency: of("plate_optical_efficiency"),
            loss_linear: of("plate_loss"),
            loss_quadratic: of("plate_loss_quadratic"),
            transfer: of("plate_transfer"),
        };
        let along = of("along_angle").to_radians();
        let slant = libm::cos(along) * incidence::modifier(of("incidence_coefficient"), along);
        let absorbed = (parts::absorbed(settings, of("tube_offset")), plate.gain(light) * slant);
        let flows = (of("trough_flow") / 1000.0, of("plate_flow") / 1000.0);
        let apertures = (parts::mirror(settings).area() * light, plate.area * light);

        let mut columns = vec![Vec::with_capacity(at.len()); STATES.len()];
        let mut energy = None;
        for &excess in at {
            let inlet = room + excess;
            if inlet > HIGHEST {
                return Err(BenchError::TooHot { limit: inlet, highest: HIGHEST });
            }
            let heat = water::heat_capacity(inlet);
            let (rate_t, rate_p) = (flows.0 * heat, flows.1 * heat);
            let trough = Steady::of(&tube, absorbed.0, rate_t, inlet, room);
            let flat = Steady::of(&plate, absorbed.1, rate_p, inlet, room);
            let hottest = trough.outlet.max(flat.outlet);
            if hottest > HIGHEST {
                return Err(BenchError::TooHot { limit: hottest, highest: HIGHEST });
            }
            let volume = 1e6 / water::density(inlet);
            let row = [
                inlet,
                trough.outlet,
                flat.outlet,
                trough.useful / apertures.0,
                flat.useful / apertures.1,
                trough.plate,
                flat.plate,
                trough.useful,
                flat.useful,
                flows.0 * volume,
                flows.1 * volume,
                light,
                room,
            ];
            columns.iter_mut().zip(row).for_each(|(column, value)| column.push(value));
            energy = Some(Energy {
                supplied: MINUTE * (absorbed.0 + absorbed.1),
                stored: MINUTE * (rate_t * (trough.outlet - inlet) + rate_p * (flat.outlet - inlet)),
                lost: MINUTE * (tube.loss(trough.plate - room) + plate.loss(flat.plate - room)),
            });
        }
        Ok(Run { columns, energy, limits: Vec::new() })
    }
}
