//! Two absorber plates under one lamp: the same sheet, two finishes. In: settings and times in s. Out: their true states.
//! It must not read instruments: what a display shows is made elsewhere; what a probe follows is made here.
//!
//! # Equations
//! Light: `G = s g r P / (4 π (d + d_0)²) · b(t)`, see [`super::Lamp`]; `b = 1 − exp(−t/τ_L)` while the lamp is on, and
//! `b(t_off) exp(−(t − t_off)/τ_L)` after it is switched off.
//! Each plate: `C dT/dt = A (α w G − ε σ (T⁴ − T_a⁴) − h (T − T_a) − U_b (T − T_a))`, `h = h_30 (|T − T_a| / 30 K)^n`, with T⁴
//! of absolute temperatures, see [`super::Plate`]; w is 1 for the first plate.
//! Probe on each plate: `τ_p dT_d/dt = T_a + k (T − T_a) − T_d`, see `pair`.
//! Ledger: supplied `∫ A α w G dt`, lost `∫ loss dt` of both plates, integrated with the states; stored `C ΔT`.
//! Limit: rates zero in the light of the warm lamp, however long it is on. Start: plates and probes at `T_a` plus the excess.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | t, t_off | time since the lamp was switched on, when it is switched off | s |
//! | T, T_d, T_a | plate, its probe, room (walls as warm as air) | °C |
//! | s, g, r, P, d, d_0, τ_L, G | lamp, see [`super::Lamp`]; irradiance on the first plate | W/m² |
//! | A, α, ε | lit area, absorptance for the lamp's light, emittance for heat rays | m², 1, 1 |
//! | h_30, n, U_b | convection 30 K above the room, its exponent, loss through the back | W/(m² K), 1, W/(m² K) |
//! | C | heat capacity of one plate | J/K |
//! | w | light on the second plate against that on the first | 1 |
//! | k, τ_p | contact of a probe: share of the plate's excess that it takes on; its lag | 1, s |
//!
//! Sources: Stefan-Boltzmann law and Kirchhoff's law for grey surfaces in a large room; free convection after Churchill and Chu
//! and McAdams (h 4 to 10 W/(m² K) at plates of 10 to 20 cm, see [`super::convection`]); finishes: [`super::surface`]. Contact
//! of probes: common practice, no source.
//!
//! # Validity
//! Plates up to 150 °C; each of one temperature throughout (a metal sheet has a Biot number below 0.01); neither warms the
//! other; the probe takes no heat. A lag below 0.1 s counts as none.

#[cfg(test)]
mod cases;

use super::{
    Bench, BenchError, Energy, Input, Lamp, Limit, Plate, Run, Settings, State, input,
    integrate::TOLERANCE,
    pair::{Glow, Moment, Pair},
};

/// The highest temperature of a plate, °C: paint and probes end there.
const HIGHEST: f64 = 150.0;

/// The two absorber plates.
#[derive(Debug, Clone, Copy)]
pub struct Plates;

static INPUTS: &[Input] = &[
    input("lamp_power", "W", 150.0, (20.0, 500.0), "electrical power of the lamp"),
    input("lamp_distance", "m", 0.35, (0.15, 1.0), "from the front of the reflector to the plates"),
    input("lamp_radiant_share", "1", 0.85, (0.3, 0.95), "share of the lamp's power that leaves as light and heat rays"),
    input("lamp_gain", "1", 10.0, (1.0, 15.0), "gain of the reflector"),
    input("lamp_source_offset", "m", 0.02, (0.0, 0.1), "virtual source behind the front of the reflector"),
    input("lamp_evenness", "1", 0.92, (0.7, 1.0), "mean over the plates against the middle of the spot"),
    input("lamp_warm_up", "s", 0.0, (0.0, 60.0), "time constant with which the lamp comes to its full light"),
    input("lamp_off", "s", 36000.0, (0.0, 36000.0), "when the lamp is switched off"),
    input("plate_area", "m2", 0.02, (0.01, 0.04), "area of each plate"),
    input("plate_capacity", "J/K", 70.0, (40.0, 150.0), "heat capacity of each plate"),
    input("first_absorptance", "1", 0.95, (0.05, 0.98), "absorptance of the first plate for the lamp's light"),
    input("first_emittance", "1", 0.92, (0.03, 0.98), "emittance of the first plate for heat rays"),
    input("second_absorptance", "1", 0.20, (0.05, 0.98), "absorptance of the second plate for the lamp's light"),
    input("second_emittance", "1", 0.90, (0.03, 0.98), "emittance of the second plate for heat rays"),
    input("second_light", "1", 1.0, (0.8, 1.25), "light on the second plate against that on the first"),
    input("convection", "W/(m2 K)", 5.0, (2.0, 12.0), "coefficient of convection 30 K above the room"),
    input("convection_exponent", "1", 0.25, (0.0, 0.34), "its exponent: 0.25 free and laminar, 0 in a draught"),
    input("back_loss", "W/(m2 K)", 1.5, (0.2, 12.0), "loss through the back (insulated 0.5-3, bare 5-12)"),
    input("probe_contact", "1", 1.0, (0.9, 1.0), "share of a plate's excess that its probe takes on"),
    input("probe_lag", "s", 0.0, (0.0, 30.0), "time constant of the probes"),
    input("room_temperature", "°C", 20.0, (5.0, 40.0), "temperature of the room"),
    input("start_excess", "K", 0.0, (-5.0, 100.0), "plates at the start against the room"),
];

static STATES: &[State] = &[
    State { id: "first_plate_temperature", unit: "°C", about: "first plate" },
    State { id: "second_plate_temperature", unit: "°C", about: "second plate" },
    State { id: "first_probe_temperature", unit: "°C", about: "probe on the first plate" },
    State { id: "second_probe_temperature", unit: "°C", about: "probe on the second plate" },
    State { id: "irradiance", unit: "W/m2", about: "mean irradiance on the first plate" },
    State { id: "full_irradiance", unit: "W/m2", about: "the same in the light of the warm lamp" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
    State { id: "first_loss", unit: "W", about: "what the first plate loses" },
    State { id: "second_loss", unit: "W", about: "what the second plate loses" },
];

impl Bench for Plates {
    fn id(&self) -> &'static str {
        "plates"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since the lamp was switched on" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        let pair = pair(settings);
        let limits = pair.limits();
        limits.into_iter().chain([pair.start]).try_for_each(cool_enough)?;

        let moments = pair.solve(at, TOLERANCE)?;
        let column = |pick: &dyn Fn(&Moment) -> f64| moments.iter().map(pick).collect::<Vec<f64>>();
        let columns = vec![
            column(&|moment| moment.plates[0]),
            column(&|moment| moment.plates[1]),
            column(&|moment| moment.probes[0]),
            column(&|moment| moment.probes[1]),
            at.iter().map(|&time| pair.full_light[0] * pair.glow.share(time)).collect(),
            vec![pair.full_light[0]; at.len()],
            vec![pair.room; at.len()],
            column(&|moment| pair.plates[0].loss(moment.plates[0], pair.room)),
            column(&|moment| pair.plates[1].loss(moment.plates[1], pair.room)),
        ];
        let energy = moments.last().map(|moment| Energy {
            supplied: moment.supplied,
            stored: pair.stored(moment),
            lost: moment.lost,
        });
        let limits = vec![
            Limit { state: "first_plate_temperature", value: limits[0] },
            Limit { state: "second_plate_temperature", value: limits[1] },
        ];
        Ok(Run { columns, energy, limits })
    }
}

/// The plates in SI.
fn pair(settings: &Settings) -> Pair {
    let of = |name| settings.get(name);
    let plate = |absorptance, emittance| Plate {
        area: of("plate_area"),
        absorptance: of(absorptance),
        emittance: of(emittance),
        faces: 1.0,
        convection: of("convection"),
        convection_exponent: of("convection_exponent"),
        back_loss: of("back_loss"),
    };
    let lamp = Lamp::warming(settings);
    let light = lamp.irradiance(of("lamp_distance"));
    Pair {
        plates: [plate("first_absorptance", "first_emittance"), plate("second_absorptance", "second_emittance")],
        full_light: [light, light * of("second_light")],
        glow: Glow { lamp: Some(lamp), off: of("lamp_off") },
        capacity: of("plate_capacity"),
        contact: of("probe_contact"),
        lag: of("probe_lag"),
        room: of("room_temperature"),
        start: of("room_temperature") + of("start_excess"),
    }
}

fn cool_enough(reached: f64) -> Result<(), BenchError> {
    if reached <= HIGHEST { Ok(()) } else { Err(BenchError::Overheated { part: "plate", reached, highest: HIGHEST }) }
}
