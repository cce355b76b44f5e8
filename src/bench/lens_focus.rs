//! A lamp, a lens and a screen that is moved. In: settings and distances of the screen in m. Out: the spot on it.
//! It must not warm anything: that is the bench of the heated targets.
//!
//! # Equations
//! Light on the lens: `G = s g r P / (4 π (D + d_0)²)`, see [`super::Lamp`].
//! Image: `1/f = 1/(D + d_0) + 1/v`; spot, its power `ρ A G`, concentration: see [`super::Lens`].
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | x | distance of the screen behind the lens | m |
//! | D, d_0 | distance from lens to lamp, virtual source behind its front | m |
//! | s, g, r, P | lamp, see [`super::Lamp`] | 1, 1, 1, W |
//! | W, f, ρ, b, A | diameter, focal length, transmittance, blur, area of the lens | m, m, 1, m, m² |
//!
//! Sources: equation of the thin lens; inverse square law; blur of 3 to 8 mm of moulded lenses: from memory.
//!
//! # Validity
//! A thin lens, light near its axis (`W < 2 f` is far off, yet the cone of light stays what it is); the lamp's bulb or filament
//! seen as an evenly bright disc; the screen square to the axis.

use super::{Bench, BenchError, Input, Lamp, Lens, Run, Settings, State, input, integrate::ascending, lens::Source};

/// The lens with its screen.
#[derive(Debug, Clone, Copy)]
pub struct LensFocus;

static INPUTS: &[Input] = &[
    input("lamp_power", "W", 150.0, (20.0, 500.0), "electrical power of the lamp"),
    input("lamp_distance", "m", 1.0, (0.6, 3.0), "from the front of the reflector to the lens"),
    input("lamp_radiant_share", "1", 0.85, (0.3, 0.95), "share of the lamp's power that leaves as light and heat rays"),
    input("lamp_gain", "1", 10.0, (1.0, 15.0), "gain of the reflector"),
    input("lamp_source_offset", "m", 0.0, (0.0, 0.1), "virtual source behind the front of the reflector"),
    input("lamp_evenness", "1", 1.0, (0.7, 1.0), "mean over the lens against the middle of the beam"),
    input("source_size", "m", 0.02, (0.005, 0.1), "diameter of what shines in the lamp"),
    input("lens_diameter", "m", 0.10, (0.04, 0.25), "diameter of the lens"),
    input("focal_length", "m", 0.15, (0.05, 0.4), "focal length of the lens"),
    input("lens_transmittance", "1", 0.75, (0.5, 0.95), "share of the light on the lens that reaches the spot"),
    input("lens_blur", "m", 0.004, (0.0, 0.01), "width that colours and facets add to the image"),
];

static STATES: &[State] = &[
    State { id: "spot_diameter", unit: "m", about: "diameter of the spot on the screen" },
    State { id: "spot_irradiance", unit: "W/m2", about: "mean irradiance in the spot" },
    State { id: "spot_power", unit: "W", about: "power in the spot" },
    State { id: "area_ratio", unit: "1", about: "area of the lens over area of the spot" },
    State { id: "irradiance", unit: "W/m2", about: "irradiance on the lens" },
    State { id: "image_distance", unit: "m", about: "where the image is sharp, behind the lens" },
    State { id: "focal_length", unit: "m", about: "focal length of the lens" },
];

impl Bench for LensFocus {
    fn id(&self) -> &'static str {
        "lens-focus"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "distance", unit: "m", about: "distance of the screen behind the lens" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        ascending(at)?;
        let of = |name| settings.get(name);
        let lens = Lens {
            diameter: of("lens_diameter"),
            focal_length: of("focal_length"),
            transmittance: of("lens_transmittance"),
            blur: of("lens_blur"),
        };
        let lamp = Lamp::of(settings);
        let light = lamp.irradiance(of("lamp_distance"));
        let source = Source::Near { size: of("source_size"), distance: of("lamp_distance") + of("lamp_source_offset") };
        let spots: Vec<f64> = at.iter().map(|&x| lens.spot(source, x)).collect();
        let constant = |value: f64| vec![value; at.len()];
        let columns = vec![
            spots.clone(),
            spots.iter().map(|&spot| lens.concentration(spot) * light).collect(),
            constant(lens.power(light)),
            spots.iter().map(|&spot| lens.area_ratio(spot)).collect(),
            constant(light),
            constant(lens.image_distance(source)),
            constant(lens.focal_length),
        ];
        Ok(Run { columns, energy: None, limits: Vec::new() })
    }
}
