//! The plates in cases that have a closed solution or stand in textbooks. They lie outside the ranges of the inputs, so that
//! they are put to the model itself.

use crate::bench::{
    Plate,
    pair::{Glow, Pair},
};

/// Two plates at 20 °C in an even light of `light` W/m² that is bright at once.
fn pair(light: f64, first: Plate, second: Plate, capacity: f64) -> Pair {
    Pair {
        plates: [first, second],
        full_light: [light, light],
        glow: Glow { lamp: None, off: 1e9 },
        capacity,
        contact: 1.0,
        lag: 0.0,
        room: 20.0,
        start: 20.0,
    }
}

fn near(found: f64, wanted: f64, tolerance: f64) {
    assert!((found - wanted).abs() <= tolerance, "found {found}, wanted {wanted}");
}

const BARE: Plate = Plate {
    area: 0.03,
    absorptance: 0.9,
    emittance: 0.9,
    faces: 1.0,
    convection: 9.0,
    convection_exponent: 0.0,
    back_loss: 0.0,
};

/// Source: one node `C dT/dt = P − UA (T − T_a)` in closed form; C 900 J/K, UA 0.35 W/K, P 19 W, 20 °C: limit
/// 74.28571429 °C; after 1200 s 40.24373537 °C, stored 18219.36183 J, lost 4580.638166 J.
#[test]
fn a_plate_that_does_not_radiate_follows_one_node() {
    let plate = Plate { area: 1.0, absorptance: 1.0, emittance: 0.0, convection: 0.25, back_loss: 0.1, ..BARE };
    let model = pair(19.0, plate, plate, 900.0);
    near(model.limits()[0], 74.285_714_29, 1e-8);
    let moment = model.solve(&[1200.0], 1e-10).expect("a solution")[0];
    let ([first, second], supplied, lost) = (moment.plates, moment.supplied, moment.lost);
    near(first, 40.243_735_37, 1e-8);
    near(second, first, 0.0);
    near(900.0 * (first - 20.0), 18_219.361_83, 1e-4);
    near(lost / 2.0, 4_580.638_166, 1e-4);
    near(supplied / 2.0, 22_800.0, 1e-6);
}

/// Source: Holman, Heat Transfer, example 8-20: 700 W/m², surroundings 298 K, radiation alone: white 39.5 °C, black 104.8 °C;
/// solved again: 39.46549084 and 104.7597568 with 0 °C taken as 273 K, to be met within 0.05 K.
#[test]
fn radiation_alone_keeps_white_cool() {
    let alone = Plate { convection: 0.0, ..BARE };
    let white = Plate { absorptance: 0.12, emittance: 0.9, ..alone };
    let black = Plate { absorptance: 0.96, emittance: 0.95, ..alone };
    let model = Pair { room: 25.0 - 0.15, ..pair(700.0, white, black, 120.0) };
    let [white, black] = model.limits();
    near(white + 0.15, 39.465_490_84, 0.05);
    near(black + 0.15, 104.759_756_8, 0.05);
}

/// Source: solved outside this program (scipy): 700 W/m², α 0.95, ε 0.9, h 9, back insulated, C 120 J/K, 0.03 m², 20 °C: limit
/// 63.2 °C, 29.0 °C after 1 min, 50.1 °C after 5 min.
#[test]
fn a_black_plate_nears_its_limit() {
    let model = pair(700.0, Plate { absorptance: 0.95, ..BARE }, BARE, 120.0);
    let states = model.solve(&[60.0, 300.0], 1e-10).expect("a solution");
    near(model.limits()[0], 63.2, 0.06);
    near(states[0].plates[0], 29.0, 0.06);
    near(states[1].plates[0], 50.1, 0.06);
}
