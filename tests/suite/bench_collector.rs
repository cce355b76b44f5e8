//! The collector and the lamp against standards and textbooks.

use labquire::bench::{Collector, Lamp, cover, fin::Fin, incidence, top_loss::Panes};
use proptest::prelude::*;

use crate::reference::assert_near;

fn flat_plate(optical_efficiency: f64, loss_linear: f64, loss_quadratic: f64) -> Collector {
    Collector { area: 1.7, optical_efficiency, loss_linear, loss_quadratic, transfer: 100.0 }
}

/// Source: ISO 9806 quadratic form, `η = η_0 − a_1 T*_m − a_2 G T*_m²`, with η_0 0.775, a_1 3.75 W/(m² K),
/// a_2 0.02 W/(m² K²) at 800 W/m² and 40 K: 0.5475.
#[test]
fn efficiency_follows_the_quadratic_form() {
    let collector = flat_plate(0.775, 3.75, 0.02);
    assert_near(collector.efficiency(800.0, 40.0), 0.5475, 1e-12, "efficiency");
    let reduced = 40.0 / 800.0;
    let form = 0.775 - 3.75 * reduced - 0.02 * 800.0 * reduced * reduced;
    assert_near(collector.efficiency(800.0, 40.0), form, 1e-12, "reduced form");
}

/// Source: zero of the ISO 9806 form at 1000 W/m², closed root and scipy `brentq`: 124.2845443 K.
#[test]
fn stagnation_lies_where_the_efficiency_vanishes() {
    let collector = flat_plate(0.775, 3.75, 0.02);
    // A kelvin changes the efficiency by 0.9 %, so this holds the zero within 1e-6 K.
    assert!(collector.efficiency(1000.0, 124.284_544_3).abs() < 1e-8);
}

/// The bench collector of the textbook form: F' 0.9, U_L 10 W/(m² K), 0.03 m², 2 g/s at 4180 J/(kg K), 640 W/m² absorbed,
/// 5 K above the room. Source: Hottel-Whillier-Bliss (Duffie and Beckman, equations 6.6.3 and 6.7.4), solved both ways
/// outside this program: F_R 0.885621713, useful heat 15.67550432 W, outlet 26.87506033 °C.
#[test]
fn useful_heat_follows_hottel_whillier_bliss() {
    let (area, slope, factor, absorbed, rate) = (0.03, 10.0, 0.9, 640.0, 0.002 * 4180.0);
    let transfer = area * slope * factor / (1.0 - factor);
    let collector = Collector { area, optical_efficiency: 0.8, loss_linear: slope, loss_quadratic: 0.0, transfer };
    assert_near(collector.efficiency_factor(0.0), factor, 1e-12, "F'");
    assert_near(collector.heat_removal_factor(rate, 0.0), 0.885_621_713, 1e-9, "F_R");

    // What the bench does: the plate's balance with heat passed to the stream per kelvin between plate and inlet.
    let coupling = collector.coupling(rate, 0.0);
    let light = absorbed / 0.8;
    let plate_excess = (collector.gain(light) + coupling * 5.0) / (area * slope + coupling);
    let useful = coupling * (plate_excess - 5.0);
    assert_near(useful, 15.675_504_32, 1e-9, "useful heat");
    assert_near(25.0 + useful / rate, 26.875_060_33, 1e-9, "outlet");
    assert_near(useful, collector.gain(light) - collector.loss(plate_excess), 1e-12, "balance");
}

/// Source: fraction of a first-order rise after one and three time constants, closed form: 0.6321205588, 0.9502129316.
#[test]
fn the_lamp_warms_up_in_first_order() {
    let lamp = Lamp { power: 120.0, radiant_share: 1.0, gain: 1.0, source_offset: 0.0, evenness: 1.0, warm_up: 20.0 };
    assert_near(lamp.brightness(0.0), 0.0, 1e-15, "start");
    assert_near(lamp.brightness(20.0), 0.632_120_558_8, 1e-10, "one time constant");
    assert_near(lamp.brightness(60.0), 0.950_212_931_6, 1e-10, "three time constants");
    assert_near(Lamp { warm_up: 0.0, ..lamp }.brightness(0.0), 1.0, 1e-15, "at once");
}

/// Source: inverse square law `P / (4 π d²)` for 120 W at 0.30 m: 106.1 W/m².
#[test]
fn light_falls_with_the_square_of_the_distance() {
    let lamp = Lamp { power: 120.0, radiant_share: 1.0, gain: 1.0, source_offset: 0.0, evenness: 1.0, warm_up: 0.0 };
    assert!((lamp.irradiance(0.30) - 106.1).abs() < 0.05);
    assert_near(lamp.irradiance(0.2) / lamp.irradiance(0.6), 9.0, 1e-12, "thrice the distance");
    let offset = Lamp { source_offset: 0.05, ..lamp };
    assert!(offset.irradiance(0.2) / offset.irradiance(0.6) < 9.0);
}

proptest! {
    #[test]
    fn efficiency_falls_with_the_temperature_difference(
        light in 100.0..1500.0f64, excess in 0.0..80.0f64, linear in 2.0..25.0f64, quadratic in 0.0..0.1f64,
    ) {
        let collector = flat_plate(0.9, linear, quadratic);
        prop_assert!(collector.efficiency(light, excess + 1.0) < collector.efficiency(light, excess));
        prop_assert!(collector.efficiency(light, 0.0) < 1.0);
    }

    #[test]
    fn more_flow_takes_more_heat_with_a_smaller_rise(
        area in 0.02..0.05f64, linear in 2.0..25.0f64, transfer in 0.5..30.0f64, rate in 4.0..40.0f64, more in 1.05..3.0f64,
    ) {
        let collector = Collector { area, optical_efficiency: 0.9, loss_linear: linear, loss_quadratic: 0.05, transfer };
        let (few, many) = (collector.heat_removal_factor(rate, 10.0), collector.heat_removal_factor(more * rate, 10.0));
        prop_assert!(few < many && many < collector.efficiency_factor(10.0));
        prop_assert!(many / (more * rate) < few / rate);
    }
}

/// Source: Duffie and Beckman, example 6.5.1 (published values from memory: m 6.45, F 0.937, F' 0.841), solved again in
/// closed form: U_L 8 W/(m² K), tubes of 10 mm every 150 mm, 0.5 mm of 385 W/(m K), 300 W/(m² K) inside.
#[test]
fn a_plate_with_tubes_is_a_fin() {
    let fin = Fin { loss: 8.0, spacing: 0.15, diameter: 0.01, thickness: 0.0005, conductivity: 385.0, inside: 300.0 };
    assert_near(fin.decay(), 6.446_583_712, 1e-9, "m");
    assert_near(fin.efficiency(), 0.937_229_260_6, 1e-9, "F");
    assert_near(fin.factor(), 0.840_649_859_2, 1e-9, "F'");
    assert_near(Fin { spacing: 0.01, ..fin }.efficiency(), 1.0, 1e-12, "no fin");
}

/// Source: Klein, 1979 (Duffie and Beckman, eq. 6.4.9) in closed form: plate 100 °C, air 10 °C, wind 10 W/(m² K), glass 0.88,
/// 45°; the solved balance gives 6.62 and 3.56 W/(m² K) for one pane over a black and a selective plate.
#[test]
fn the_empirical_top_loss_is_near_the_solved_one() {
    let panes = |number, plate_emittance| Panes {
        number,
        plate_emittance,
        glass_emittance: 0.88,
        tilt: 45_f64.to_radians(),
        wind: 10.0,
    };
    for (number, emittance, wanted) in
        [(1.0, 0.95, 6.643_780_722), (2.0, 0.95, 3.876_111_801), (1.0, 0.1, 3.637_933_105)]
    {
        // The published sum was made with a Stefan-Boltzmann constant of fewer digits.
        assert_near(panes(number, emittance).loss(100.0, 10.0), wanted, 1e-4, "U_t");
    }
    assert!((panes(1.0, 0.95).loss(100.0, 10.0) - 6.62).abs() < 0.3);
}

/// Source: Rai, Non-conventional Energy Sources, example 3.6.1, solved again: latitude 22°, declination −23°, tilt 37°, noon;
/// τ 0.88, α 0.9, ρ_d 0.24, 300 kcal/(m² h), F_R 0.81, U_L 6.8 kcal/(m² h K), inlet 60 °C, air 15 °C.
#[test]
fn a_worked_example_at_noon() {
    let [latitude, declination, tilt] = [22_f64, -23.0, 37.0].map(f64::to_radians);
    let ratio = incidence::beam_ratio(latitude, declination, tilt, 0.0);
    assert_near(ratio, 1.400_450_533, 1e-9, "R_b");
    let absorbed = 300.0 * ratio * cover::transmittance_absorptance(0.88, 0.9, 0.24);
    assert_near(absorbed, 340.929_351_1, 1e-9, "S");
    let useful = 0.81 * (absorbed - 6.8 * 45.0);
    assert_near(useful, 28.292_774_4, 1e-8, "useful heat");
    assert_near(useful / (300.0 * ratio), 0.067_342_077_26, 1e-9, "efficiency");
}
