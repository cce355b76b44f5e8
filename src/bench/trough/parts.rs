//! What all benches with a trough can be set to, and the parts that follow. In: settings. Out: mirror, tube, losses in SI.
//! It must run nothing.

use std::f64::consts::PI;

use crate::bench::{Collector, Input, Mirror, Settings, Tube, input, parabola};

/// Inputs that every bench with a trough has.
pub(super) const COMMON: [Input; 15] = [
    input("irradiance", "W/m2", 550.0, (50.0, 1100.0), "irradiance square to the beam"),
    input("aperture", "m", 0.28, (0.15, 0.6), "distance of the rims of the trough"),
    input("trough_length", "m", 0.25, (0.1, 0.6), "length of the trough and of the tube in it"),
    input("rim_depth", "m", 0.07, (0.03, 0.3), "depth of the trough below the line between its rims"),
    input("reflectance", "1", 0.85, (0.5, 0.98), "reflectance of the mirror"),
    input("spread", "mrad", 12.0, (4.0, 60.0), "half width of source and surface errors together"),
    input("aim_error", "°", 0.0, (0.0, 15.0), "error of aim across the trough"),
    input("along_angle", "°", 0.0, (0.0, 80.0), "angle of the light along the trough"),
    input("tube_diameter", "mm", 15.0, (6.0, 30.0), "outer diameter of the tube"),
    input("absorptance", "1", 0.9, (0.5, 0.98), "absorptance of the tube, with its glass if any"),
    input("direct_share", "1", 1.0, (0.0, 1.0), "share of the direct light that the tube's upper side takes up"),
    input(
        "incidence_coefficient",
        "1",
        0.0,
        (0.0, 0.2),
        "coefficient of the incidence angle modifier, 0 without glass",
    ),
    input("tube_loss", "W/(m2 K)", 15.0, (3.0, 30.0), "linear loss coefficient of the tube (bare 10-25, in glass 5-8)"),
    input("tube_loss_quadratic", "W/(m2 K2)", 0.03, (0.0, 0.1), "quadratic loss coefficient of the tube"),
    input("room_temperature", "°C", 20.0, (5.0, 40.0), "temperature of the air"),
];

/// Two lists of inputs one behind the other.
pub(super) const fn joined<const N: usize, const M: usize, const T: usize>(
    first: [Input; N],
    second: [Input; M],
) -> [Input; T] {
    let mut all = [first[0]; T];
    let mut place = 0;
    while place < T {
        all[place] = if place < N { first[place] } else { second[place - N] };
        place += 1;
    }
    all
}

pub(super) fn mirror(settings: &Settings) -> Mirror {
    let aperture = settings.get("aperture");
    Mirror {
        aperture,
        length: settings.get("trough_length"),
        focal: parabola::focal_length(aperture, settings.get("rim_depth")),
        reflectance: settings.get("reflectance"),
        spread: settings.get("spread") / 1000.0,
    }
}

/// The tube with its middle so many mm behind the focal line, as seen from the mirror.
fn tube(settings: &Settings, offset: f64) -> Tube {
    Tube {
        diameter: settings.get("tube_diameter") / 1000.0,
        absorptance: settings.get("absorptance"),
        direct_share: settings.get("direct_share"),
        incidence_coefficient: settings.get("incidence_coefficient"),
        offset: offset / 1000.0,
    }
}

/// Power that the tube absorbs so many mm behind the focal line, W.
pub(super) fn absorbed(settings: &Settings, offset: f64) -> f64 {
    let (aim, along) = (settings.get("aim_error").to_radians(), settings.get("along_angle").to_radians());
    mirror(settings).absorbed(&tube(settings, offset), settings.get("irradiance"), aim, along)
}

/// The whole surface of the tube as a plate that loses heat and passes heat on (W/K) to the water in it.
pub(super) fn surface(settings: &Settings, transfer: f64) -> Collector {
    Collector {
        area: PI * settings.get("tube_diameter") / 1000.0 * settings.get("trough_length"),
        optical_efficiency: 1.0,
        loss_linear: settings.get("tube_loss"),
        loss_quadratic: settings.get("tube_loss_quadratic"),
        transfer,
    }
}
