//! Two equal absorbers under one lamp, one of them behind a pane of glass. In: settings and times in s. Out: true states.
//! It must not read instruments: what a display shows is made elsewhere; what a probe follows is made here.
//!
//! # Equations
//! Light: `G = s g r P / (4 π (d + d_0)²) · (1 − exp(−t/τ_L))`, see [`super::Lamp`]; a share w of it lies beyond 2.7 µm, where
//! glass absorbs all: `w = 1 − F(2.7 µm · T_L)` of a black body as hot as the filament, see [`super::radiation`].
//! Bare plate: `C dT_b/dt = A α G − loss(T_b)`, see [`super::Plate`].
//! Covered plate: `C dT_c/dt = A (1 − w) (τα) G − A q(T_c, T_g) − A U_b (T_c − T_a)`.
//! Glass: `C_g dT_g/dt = A (w + (1 − w) (1 − τ_a)) G + A q(T_c, T_g) − A (ε_g σ (T_g⁴ − T_a⁴) + h (T_g − T_a))`.
//! Gap: `q = h_gap (T_c − T_g) + σ (T_c⁴ − T_g⁴) / (1/ε + 1/ε_g − 1)`, see [`super::gap`]; cover: τ, τ_a, τα at square light, see
//! [`super::cover`]; `h = h_30 (|ΔT| / 30 K)^n`.
//! Probe on each plate: `τ_p dT_d/dt = T_a + k (T − T_a) − T_d`.
//! Ledger: supplied is what plates and glass absorb, lost what passes to the room, both integrated with the states; stored
//! `C (ΔT_b + ΔT_c) + C_g ΔT_g`. Limit: all rates zero in the light of the warm lamp. Start: all at `T_a`.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | t, T_b, T_c, T_g, T_a | time since the lamp was switched on; bare plate, covered plate, glass, room | s, °C |
//! | T_L, w | temperature of the filament, share of its light that no glass passes | K, 1 |
//! | A, α, ε, C, U_b | area, absorptance, emittance, heat capacity, loss through the back of each plate | m², 1, 1, J/K, W/(m² K) |
//! | n_g, K, L, ε_g, C_g | index, extinction, thickness, emittance, heat capacity of the pane, `ρ c A L` | 1, 1/m, m, 1, J/K |
//! | β, l | tilt of both plates, width of the gap | rad, m |
//! | h_30, n, k, τ_p | convection 30 K above the room, its exponent; contact and lag of the probes | W/(m² K), 1, 1, s |
//!
//! Sources: cover and gap as in Duffie and Beckman, Solar Engineering of Thermal Processes, chapters 3, 5 and 6 (quoted from
//! memory); glass 2500 kg/m³, 750 J/(kg K): soda-lime glass in the tables of the library ht.
//!
//! # Validity
//! Plates up to 150 °C; glass opaque to heat rays and of one temperature; gap of 8 to 50 mm, tilt up to 75°; edges left out.

mod model;

use super::{Bench, BenchError, Energy, Input, Limit, Run, Settings, State, integrate::TOLERANCE};
use model::Model;

/// The highest temperature of a plate, °C.
const HIGHEST: f64 = 150.0;

/// The bare and the covered absorber.
#[derive(Debug, Clone, Copy)]
pub struct CoverGlass;

static INPUTS: &[Input] = &[
    Input::new("lamp_power", "W", 150.0, (20.0, 500.0), "electrical power of the lamp"),
    Input::new("lamp_distance", "m", 0.35, (0.15, 1.0), "from the front of the reflector to the plates"),
    Input::new(
        "lamp_radiant_share",
        "1",
        0.85,
        (0.3, 0.95),
        "share of the lamp's power that leaves as light and heat rays",
    ),
    Input::new("lamp_gain", "1", 10.0, (1.0, 15.0), "gain of the reflector"),
    Input::new("lamp_source_offset", "m", 0.02, (0.0, 0.1), "virtual source behind the front of the reflector"),
    Input::new("lamp_evenness", "1", 0.92, (0.7, 1.0), "mean over the plates against the middle of the spot"),
    Input::new("lamp_warm_up", "s", 0.0, (0.0, 60.0), "time constant with which the lamp comes to its full light"),
    Input::new("filament_temperature", "K", 3000.0, (2400.0, 5800.0), "temperature of the filament, or of the sun"),
    Input::new("plate_area", "m2", 0.03, (0.01, 0.05), "area of each plate"),
    Input::new("plate_capacity", "J/K", 110.0, (40.0, 200.0), "heat capacity of each plate"),
    Input::new("absorptance", "1", 0.95, (0.5, 0.98), "absorptance of the plates for the lamp's light"),
    Input::new("emittance", "1", 0.92, (0.03, 0.98), "emittance of the plates for heat rays"),
    Input::new("convection", "W/(m2 K)", 5.0, (2.0, 25.0), "coefficient of convection 30 K above the room"),
    Input::new("convection_exponent", "1", 0.25, (0.0, 0.34), "its exponent: 0.25 free and laminar, 0 in a draught"),
    Input::new("back_loss", "W/(m2 K)", 1.5, (0.2, 5.0), "loss through the insulated back"),
    Input::new("glass_thickness", "mm", 3.0, (1.0, 6.0), "thickness of the pane"),
    Input::new("glass_refraction", "1", 1.526, (1.4, 1.6), "refractive index of the pane"),
    Input::new("glass_extinction", "1/m", 16.0, (2.0, 40.0), "extinction of the pane: 4 clear, 32 greenish"),
    Input::new("glass_emittance", "1", 0.88, (0.8, 0.95), "emittance of the pane for heat rays"),
    Input::new("gap", "mm", 20.0, (8.0, 50.0), "width of the gap between plate and pane"),
    Input::new("tilt", "°", 45.0, (20.0, 75.0), "tilt of both plates against the level"),
    Input::new("probe_contact", "1", 1.0, (0.9, 1.0), "share of a plate's excess that its probe takes on"),
    Input::new("probe_lag", "s", 0.0, (0.0, 30.0), "time constant of the probes"),
    Input::new("room_temperature", "°C", 20.0, (5.0, 40.0), "temperature of the room"),
];

static STATES: &[State] = &[
    State { id: "bare_plate_temperature", unit: "°C", about: "plate without cover" },
    State { id: "covered_plate_temperature", unit: "°C", about: "plate behind glass" },
    State { id: "glass_temperature", unit: "°C", about: "pane" },
    State { id: "bare_probe_temperature", unit: "°C", about: "probe on the plate without cover" },
    State { id: "covered_probe_temperature", unit: "°C", about: "probe on the plate behind glass" },
    State { id: "irradiance", unit: "W/m2", about: "mean irradiance on pane and bare plate" },
    State { id: "full_irradiance", unit: "W/m2", about: "the same in the light of the warm lamp" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

impl Bench for CoverGlass {
    fn id(&self) -> &'static str {
        "cover-glass"
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
        let model = Model::new(settings);
        let [bare, covered, glass] = model.limits();
        [bare, covered].into_iter().try_for_each(cool_enough)?;

        let states = model.solve(at, TOLERANCE)?;
        let column = |pick: &dyn Fn(&[f64; 7]) -> f64| states.iter().map(pick).collect::<Vec<f64>>();
        let columns = vec![
            column(&|state| state[0]),
            column(&|state| state[1]),
            column(&|state| state[2]),
            column(&|state| model.shown(state[0], state[3])),
            column(&|state| model.shown(state[1], state[4])),
            at.iter().map(|&time| model.irradiance(time)).collect(),
            vec![model.light; at.len()],
            vec![model.room; at.len()],
        ];
        let energy =
            states.last().map(|state| Energy { supplied: state[5], stored: model.stored(state), lost: state[6] });
        let limits = vec![
            Limit { state: "bare_plate_temperature", value: bare },
            Limit { state: "covered_plate_temperature", value: covered },
            Limit { state: "glass_temperature", value: glass },
        ];
        Ok(Run { columns, energy, limits })
    }
}

fn cool_enough(reached: f64) -> Result<(), BenchError> {
    if reached <= HIGHEST { Ok(()) } else { Err(BenchError::Overheated { part: "plate", reached, highest: HIGHEST }) }
}
