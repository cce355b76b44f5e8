//! The balances of the pumped loop in cases that have a closed solution. They lie outside the ranges of the inputs, so
//! that they are put to the model itself: water is replaced by a vessel of constant heat capacity.

use super::model::Model;
use crate::bench::{Collector, Lamp, pump::Pump, store::Store};

/// An even light of 1000 W/m² from a lamp that is bright at once.
fn light() -> Lamp {
    let power = 1000.0 * 4.0 * std::f64::consts::PI;
    Lamp { power, radiant_share: 1.0, gain: 1.0, source_offset: 0.0, evenness: 1.0, warm_up: 0.0 }
}

/// A loop at 20 °C whose stream is so strong that its temperature does not change along the plate.
fn linear(collector: Collector, plate_capacity: f64, store: Store, heat: f64) -> Model {
    let pump = Pump { voltage: 1.0, current: heat, heat_share: 1.0 };
    let (lamp, light) = (light(), light().irradiance(1.0));
    Model { lamp, light, collector, plate_capacity, store, pump, flow: 1e9, room: 20.0, start: 20.0 }
}

fn near(found: f64, wanted: f64, tolerance: f64) {
    assert!((found - wanted).abs() <= tolerance, "found {found}, wanted {wanted}");
}

/// Source: one node `C dT/dt = P − UA (T − T_a)` in closed form; C 900 J/K, UA 0.35 W/K, P 19 W, 20 °C: limit
/// 74.28571429 °C; after 1200 s 40.24373537 °C, stored 18219.36183 J, lost 4580.638166 J.
/// The fractions after half, one and three time constants (2571.43 s) are those of every first-order curve:
/// 0.3934693403, 0.6321205588, 0.9502129316.
#[test]
fn one_node_follows_its_closed_form() {
    // All heat comes from the pump; nothing passes between plate and water.
    let collector =
        Collector { area: 1.0, optical_efficiency: 0.0, loss_linear: 1.0, loss_quadratic: 0.0, transfer: 0.0 };
    let store = Store { water_mass: 0.0, vessel_capacity: 900.0, loss_per_kelvin: 0.35 };
    let model = linear(collector, 60.0, store, 19.0);
    let (_, limit) = model.limit();
    near(limit, 74.285_714_29, 1e-8);
    let states = model.solve(&[1200.0], 1e-10).expect("a solution");
    let [plate, water, supplied, lost] = states[0];
    near(water, 40.243_735_37, 1e-8);
    near(model.stored(plate, water), 18_219.361_83, 1e-4);
    near(lost, 4_580.638_166, 1e-5);
    near(supplied, 22_800.0, 1e-6);
    let constant = 900.0 / 0.35;
    let fractions = model.solve(&[0.5 * constant, constant, 3.0 * constant], 1e-10).expect("a solution");
    for (state, fraction) in fractions.iter().zip([0.393_469_340_3, 0.632_120_558_8, 0.950_212_931_6]) {
        near((state[1] - 20.0) / (limit - 20.0), fraction, 1e-8);
    }
}

/// Source: two-node system by matrix exponential (scipy `expm`), C 60 and 840 J/K, hA 6, UA 0.25 and 0.1 W/K, 19 W, 20 °C.
#[test]
fn two_nodes_follow_the_matrix_exponential() {
    let collector =
        Collector { area: 1.0, optical_efficiency: 0.019, loss_linear: 0.25, loss_quadratic: 0.0, transfer: 6.0 };
    let store = Store { water_mass: 0.0, vessel_capacity: 840.0, loss_per_kelvin: 0.1 };
    let model = linear(collector, 60.0, store, 0.0);
    let (plate_limit, water_limit) = model.limit();
    near(plate_limit, 74.541_176_47, 1e-7);
    near(water_limit, 73.647_058_82, 1e-7);
    let wanted = [
        (60.0, 23.839_050_72, 21.028_629_31),
        (600.0, 33.240_662_62, 30.782_498_74),
        (1200.0, 41.654_460_36, 39.514_926_14),
    ];
    let states = model.solve(&wanted.map(|(time, ..)| time), 1e-10).expect("a solution");
    for ([plate, water, ..], (_, wanted_plate, wanted_water)) in states.into_iter().zip(wanted) {
        near(plate, wanted_plate, 1e-7);
        near(water, wanted_water, 1e-7);
    }
}

/// Source: store balance with a Hottel-Whillier collector in closed form; 0.03 m², 640 W/m² absorbed, U_L 8 W/(m² K),
/// F' 0.9, 3 g/s at 4180 J/(kg K), 0.2 kg, UA 0.12 W/K, 20 °C: F_R 0.8922931173, limit 71.27041748 °C, after 1500 s
/// 43.12000891 °C. The closed form has no plate capacity and the stream's heat capacity is constant there.
#[test]
fn a_stirred_store_follows_hottel_and_whillier() {
    let (area, slope, factor) = (0.03, 8.0, 0.9);
    let transfer = area * slope * factor / (1.0 - factor);
    let collector = Collector { area, optical_efficiency: 0.64, loss_linear: slope, loss_quadratic: 0.0, transfer };
    near(collector.heat_removal_factor(0.003 * 4180.0, 0.0), 0.892_293_117_3, 1e-10);
    let store = Store { water_mass: 0.0, vessel_capacity: 0.2 * 4180.0, loss_per_kelvin: 0.12 };
    let model = Model { flow: 0.003, ..linear(collector, 0.02, store, 0.0) };
    near(model.limit().1, 71.270_417_48, 1e-3);
    near(model.solve(&[1500.0], 1e-8).expect("a solution")[0][1], 43.120_008_91, 1e-3);
}
