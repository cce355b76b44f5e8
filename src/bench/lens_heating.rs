//! Two equal targets in the sun, one of them in the spot of a lens. In: settings and times in s. Out: their true states.
//! It must not read instruments: what a display shows is made elsewhere; what a probe follows is made here.
//!
//! # Equations
//! Spot: diameter `d = √((W (1 − x/f))² + (2 x tan θ + b x/f)²)` at `x = f + Δ`, power `ρ A G`, see [`super::Lens`].
//! Target behind the lens: `C dT/dt = α κ ρ A G − loss(T)`, with the share `κ = 1 − exp(−2 (D/d)²)` of the spot that it catches.
//! Target without lens: `C dT/dt = α A_t G − loss(T)`.
//! Loss of both faces: `2 A_t (ε σ (T⁴ − T_a⁴) + h_30 (|ΔT| / 30 K)^n ΔT)`, see [`super::Plate`].
//! Probes, ledger and limits as on the bench of two plates, see `pair`; supplied is what the targets absorb.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | t, T, T_a | time since the light was let in, temperature of a target, of the room | s, °C, °C |
//! | G, θ | irradiance square to lens and target, half the angle of the source (sun 0.00465) | W/m², rad |
//! | W, A, f, ρ, b | lens, see [`super::Lens`] | m, m², m, 1, m |
//! | Δ | distance of the target behind the focus | m |
//! | D, A_t, C, α, ε | diameter, area, heat capacity, absorptance, emittance of a target | m, m², J/K, 1, 1 |
//! | h_30, n | convection 30 K above the room, its exponent | W/(m² K), 1 |
//!
//! Sources: as for [`super::Lens`] and [`super::Plate`]; a bell-shaped spot: common practice, no source.
//!
//! # Validity
//! Targets up to 400 °C, thin and of one temperature throughout; light square to the lens; the lens warms nothing else.

use super::{
    Bench, BenchError, Energy, Input, Lens, Limit, Plate, Run, Settings, State,
    integrate::TOLERANCE,
    lens::{Source, caught},
    pair::{Glow, Moment, Pair},
};

/// The highest temperature of a target, °C: black paint and probes end there.
const HIGHEST: f64 = 400.0;

/// The targets with and without lens.
#[derive(Debug, Clone, Copy)]
pub struct LensHeating;

static INPUTS: &[Input] = &[
    Input::new("irradiance", "W/m2", 700.0, (50.0, 1100.0), "light square to lens and target"),
    Input::new(
        "source_half_angle",
        "1",
        0.00465,
        (0.004, 0.05),
        "half the angle of the source in rad; the sun's is 0.00465",
    ),
    Input::new("lens_diameter", "m", 0.09, (0.04, 0.25), "diameter of the lens"),
    Input::new("focal_length", "m", 0.15, (0.05, 0.4), "focal length of the lens"),
    Input::new("lens_transmittance", "1", 0.75, (0.5, 0.95), "share of the light on the lens that reaches the spot"),
    Input::new("lens_blur", "m", 0.006, (0.001, 0.01), "width that colours and facets add to the image"),
    Input::new("defocus", "m", 0.0, (-0.04, 0.04), "distance of the target behind the focus"),
    Input::new("target_diameter", "m", 0.04, (0.01, 0.08), "diameter of each target"),
    Input::new("target_capacity", "J/K", 6.0, (1.0, 100.0), "heat capacity of each target"),
    Input::new("absorptance", "1", 0.95, (0.5, 0.98), "absorptance of the targets for the light"),
    Input::new("emittance", "1", 0.92, (0.05, 0.98), "emittance of the targets for heat rays"),
    Input::new("convection", "W/(m2 K)", 8.0, (3.0, 20.0), "coefficient of convection 30 K above the room"),
    Input::new("convection_exponent", "1", 0.25, (0.0, 0.34), "its exponent: 0.25 free and laminar, 0 in a draught"),
    Input::new("probe_contact", "1", 1.0, (0.9, 1.0), "share of a target's excess that its probe takes on"),
    Input::new("probe_lag", "s", 0.0, (0.0, 30.0), "time constant of the probes"),
    Input::new("room_temperature", "°C", 20.0, (0.0, 40.0), "temperature of the surroundings"),
    Input::new("start_excess", "K", 0.0, (-5.0, 100.0), "targets at the start against the surroundings"),
    Input::new("light_off", "s", 36000.0, (0.0, 36000.0), "when the light is shut out"),
];

static STATES: &[State] = &[
    State { id: "lens_target_temperature", unit: "°C", about: "target in the spot of the lens" },
    State { id: "bare_target_temperature", unit: "°C", about: "target without lens" },
    State { id: "lens_probe_temperature", unit: "°C", about: "probe on the target in the spot" },
    State { id: "bare_probe_temperature", unit: "°C", about: "probe on the target without lens" },
    State { id: "irradiance", unit: "W/m2", about: "irradiance on lens and bare target, as it is let in" },
    State { id: "room_temperature", unit: "°C", about: "the surroundings" },
    State { id: "spot_diameter", unit: "m", about: "diameter of the spot" },
    State { id: "spot_irradiance", unit: "W/m2", about: "mean irradiance in the spot" },
];

impl Bench for LensHeating {
    fn id(&self) -> &'static str {
        "lens-heating"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since the light was let in" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        let of = |name| settings.get(name);
        let lens = Lens {
            diameter: of("lens_diameter"),
            focal_length: of("focal_length"),
            transmittance: of("lens_transmittance"),
            blur: of("lens_blur"),
        };
        let spot = lens.spot(Source::Far(of("source_half_angle")), of("focal_length") + of("defocus"));
        let pair = pair(settings, &lens, spot);
        let limits = pair.limits();
        limits.into_iter().chain([pair.start]).try_for_each(cool_enough)?;

        let moments = pair.solve(at, TOLERANCE)?;
        let column = |pick: &dyn Fn(&Moment) -> f64| moments.iter().map(pick).collect::<Vec<f64>>();
        let columns = vec![
            column(&|moment| moment.plates[0]),
            column(&|moment| moment.plates[1]),
            column(&|moment| moment.probes[0]),
            column(&|moment| moment.probes[1]),
            at.iter().map(|&time| of("irradiance") * pair.glow.share(time)).collect(),
            vec![pair.room; at.len()],
            vec![spot; at.len()],
            vec![lens.concentration(spot) * of("irradiance"); at.len()],
        ];
        let energy = moments.last().map(|moment| Energy {
            supplied: moment.supplied,
            stored: pair.stored(moment),
            lost: moment.lost,
        });
        let limits = vec![
            Limit { state: "lens_target_temperature", value: limits[0] },
            Limit { state: "bare_target_temperature", value: limits[1] },
        ];
        Ok(Run { columns, energy, limits })
    }
}

/// The targets in SI, the first of them in a spot.
fn pair(settings: &Settings, lens: &Lens, spot: f64) -> Pair {
    let of = |name| settings.get(name);
    let radius = of("target_diameter") / 2.0;
    let target = Plate {
        area: std::f64::consts::PI * radius * radius,
        absorptance: of("absorptance"),
        emittance: of("emittance"),
        faces: 2.0,
        convection: of("convection"),
        convection_exponent: of("convection_exponent"),
        back_loss: 0.0,
    };
    let light = of("irradiance");
    let gathered = caught(of("target_diameter"), spot) * lens.power(light) / target.area;
    Pair {
        plates: [target, target],
        full_light: [gathered, light],
        glow: Glow { lamp: None, off: of("light_off") },
        capacity: of("target_capacity"),
        contact: of("probe_contact"),
        lag: of("probe_lag"),
        room: of("room_temperature"),
        start: of("room_temperature") + of("start_excess"),
    }
}

fn cool_enough(reached: f64) -> Result<(), BenchError> {
    if reached <= HIGHEST { Ok(()) } else { Err(BenchError::Overheated { part: "target", reached, highest: HIGHEST }) }
}
