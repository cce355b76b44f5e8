//! Radiation, free convection, air, finishes and bodies of one temperature against standards and textbooks.

use labquire::bench::{
    Plate, air,
    convection::{Face, Fluid},
    lumped, radiation, surface,
};
use proptest::prelude::*;

use crate::reference::{assert_near, number, rows};

const KELVIN: f64 = 273.15;

/// Source: CODATA 2018: σ 5.670374419e-8 W/(m² K⁴), b 2.897771955e-3 m K.
#[test]
fn constants_of_radiation() {
    assert!((radiation::STEFAN_BOLTZMANN / 5.670_374_419e-8 - 1.0).abs() < 1e-9);
    assert!((radiation::brightest_wavelength(1.0) / 2.897_771_955e-3 - 1.0).abs() < 1e-9);
    // The wavelength at which Planck's law peaks: x = c_2/(λT) solves x = 5 (1 − e^(−x)), x = 4.965114232 (Wien).
    assert_near(radiation::SECOND_CONSTANT / radiation::WIEN, 4.965_114_232, 1e-8, "c_2 / b");
}

/// Source: Sachdeva, Fundamentals of Engineering Heat and Mass Transfer, example 9.1: sun of 5800 K, 1.39e6 km across, at
/// 150e6 km: 1377.469921 W/m² with σ 5.67e-8, within 1e-4.
#[test]
fn sunlight_by_the_inverse_square() {
    assert_near(radiation::from_ball(5800.0, 1.39e9 / 2.0, 1.5e11), 1_377.469_921, 1e-4, "sunlight");
}

/// Source: Planck's law summed with mpmath (tests/reference/blackbody_fraction.csv); Çengel, table 12-2 at 1000, 2400 and
/// 5600 µm K: 0.000321, 0.140256, 0.701046.
#[test]
fn shares_of_the_spectrum() {
    for row in rows("blackbody_fraction.csv") {
        let found = radiation::share_below(number(&row[0]) * 1e-6);
        assert!((found - number(&row[1])).abs() < 1e-7, "{row:?}: {found}");
    }
    let exact = [
        (1000.0, 0.000_320_769_785_3),
        (1900.0, 0.052_108_250_79),
        (2400.0, 0.140_257_382_6),
        (5600.0, 0.701_020_637_5),
        (7500.0, 0.834_366_588),
        (9000.0, 0.889_989_383_4),
    ];
    for (product, share) in exact {
        assert!((radiation::share_below(product * 1e-6) - share).abs() < 1e-9, "{product}");
    }
    // Both series meet where one takes over, at x = 0.5.
    let seam = radiation::SECOND_CONSTANT / 0.5;
    let step = radiation::share_below(seam * (1.0 + 1e-9)) - radiation::share_below(seam * (1.0 - 1e-9));
    assert!(step.abs() < 1e-10, "{step}");
}

/// Source: Çengel, example 13-7: plates of 800 K, 0.2 and 500 K, 0.7: 3625.368158 W/m² with σ 5.67e-8, within 1e-4.
#[test]
fn grey_plates_face_to_face() {
    assert_near(radiation::between_plates((800.0, 0.2), (500.0, 0.7)), 3_625.368_158, 1e-4, "exchange");
}

/// Source: Holman, example 8-20: 700 W/m² at 298 K surroundings; white 39.46549084, black 104.7597568 °C with 0 °C at 273 K.
#[test]
fn white_and_black_in_radiative_equilibrium() {
    for (absorptance, emittance, celsius) in [(0.12, 0.9, 39.465_490_84), (0.96, 0.95, 104.759_756_8)] {
        let found = radiation::equilibrium(absorptance * 700.0, emittance, 298.0) - 273.0;
        assert!((found - celsius).abs() < 0.05, "{found} against {celsius}");
    }
}

/// Source: Çengel, example 12-5: 400 W/m² at 20° from square and 300 W/m² from all sides, plate 320 K, sky 260 K; for
/// (α, ε) of (0.9, 0.9), (0.1, 0.1), (0.9, 0.1), (0.1, 0.9): 306.3958635, 34.04398483, 574.7456235, −234.3057752 W/m².
#[test]
fn grey_and_selective_plates_under_the_sky() {
    let light = 400.0 * libm::cos(20.0_f64.to_radians()) + 300.0;
    let cases =
        [(0.9, 0.9, 306.395_863_5), (0.1, 0.1, 34.043_984_83), (0.9, 0.1, 574.745_623_5), (0.1, 0.9, -234.305_775_2)];
    for (absorptance, emittance, wanted) in cases {
        let plate = Plate {
            area: 1.0,
            absorptance,
            emittance,
            faces: 1.0,
            convection: 0.0,
            convection_exponent: 0.0,
            back_loss: 0.0,
        };
        let found = plate.gain(light) - plate.radiated(320.0 - KELVIN, 260.0 - KELVIN);
        assert!((found / wanted - 1.0).abs() < 2e-3, "{found} against {wanted}");
    }
}

/// Source: Incropera et al., example 12.11: a bare selective plate (α 0.95, ε 0.1) of 393 K in 750 W/m², air 303 K, sky 263 K,
/// h = 0.22 ΔT^(1/3): 515.640475 W/m² useful with σ 5.67e-8, 68.75206333 % of the light.
#[test]
fn a_bare_selective_plate_in_the_sun() {
    let plate = Plate {
        area: 1.0,
        absorptance: 0.95,
        emittance: 0.1,
        faces: 1.0,
        convection: 0.22 * libm::cbrt(30.0),
        convection_exponent: 1.0 / 3.0,
        back_loss: 0.0,
    };
    let useful = plate.gain(750.0) - plate.radiated(393.0 - KELVIN, 263.0 - KELVIN) - plate.convected(90.0);
    assert!((useful / 515.640_475 - 1.0).abs() < 1e-4, "{useful}");
    assert!((useful / 750.0 - 0.687_520_633_3).abs() < 1e-4);
}

/// Source: Duffie and Beckman, tables 4.7.1 and 4.8.1; Incropera et al., table A.12 (from memory); the tolerances are the
/// spread between handbooks.
#[test]
fn finishes_are_those_of_handbooks() {
    let handbook = [
        ("black paint", Some((0.95, 0.03)), 0.92, 0.06),
        ("white paint", Some((0.20, 0.08)), 0.90, 0.05),
        ("black chrome", Some((0.95, 0.03)), 0.11, 0.05),
        ("polished aluminium", Some((0.10, 0.06)), 0.05, 0.03),
        ("glass", None, 0.88, 0.05),
    ];
    for (name, absorptance, emittance, spread) in handbook {
        let finish = surface::find(name).expect(name);
        assert!((finish.emittance - emittance).abs() <= spread, "{finish:?}");
        assert!(absorptance.is_none_or(|(value, spread)| (finish.absorptance - value).abs() <= spread), "{finish:?}");
    }
    assert!(surface::find("no such finish").is_none());
}

/// Source: Lemmon et al. 2000, 2004 (tests/reference/air_properties_1atm.csv).
#[test]
fn air_follows_lemmon() {
    for row in rows("air_properties_1atm.csv") {
        let (t, of) = (number(&row[0]), |place: usize| number(&row[place]));
        let close = |found: f64, wanted: f64, what: &str| {
            assert!((found / wanted - 1.0).abs() < 1e-3, "{what} at {t} °C: {found} against {wanted}");
        };
        let fluid = air::fluid(t);
        close(air::density(t), of(1), "density");
        close(air::heat_capacity(t), of(2), "heat capacity");
        close(air::viscosity(t), of(3), "viscosity");
        close(fluid.conductivity, of(4), "conductivity");
        close(fluid.kinematic_viscosity, of(5), "kinematic viscosity");
        close(fluid.diffusivity, of(6), "diffusivity");
        close(fluid.prandtl(), of(7), "Prandtl number");
    }
    // Dry air at 25 °C: Çengel, table A-15, prints 1.184 kg/m³, 1007 J/(kg K), 1.562e-5 m²/s.
    assert!((air::density(25.0) - 1.184).abs() < 0.001);
    assert!((air::fluid(25.0).kinematic_viscosity / 1.562e-5 - 1.0).abs() < 0.01);
}

/// Source: Incropera et al., example 9.3: a duct of 45 °C in 15 °C, 0.3 m high and 0.75 m wide: h 4.225154101 at a side,
/// 5.478416349 on top, 2.068189112 W/(m² K) below; all in all 245.8513967 W/m.
#[test]
fn a_warm_duct() {
    let air = Fluid { conductivity: 0.0265, kinematic_viscosity: 1.62e-5, diffusivity: 2.29e-5, expansion: 0.0033 };
    let side = air.coefficient(Face::UprightLaminar, 30.0, 0.3);
    let (top, bottom) = (air.coefficient(Face::Up, 30.0, 0.375), air.coefficient(Face::Down, 30.0, 0.375));
    // The book rounds Pr to 0.71; ν / a is 0.7074.
    assert_near(side, 4.225_154_101, 5e-4, "side");
    assert_near(top, 5.478_416_349, 1e-8, "top");
    assert_near(bottom, 2.068_189_112, 1e-8, "bottom");
    assert_near((2.0 * side * 0.3 + (top + bottom) * 0.75) * 30.0, 245.851_396_7, 5e-4, "loss");
}

/// Source: Çengel, example 9-2: a square plate of 0.6 m, 90 °C in 30 °C: Ra 764902757.3 upright; 114.5778837 W upright,
/// 128.3837091 W face up, 64.19185453 W face down, 182.3644185 W by radiation (ε 1).
#[test]
fn a_plate_in_three_positions() {
    let viscosity = 1.896e-5;
    let air = Fluid {
        conductivity: 0.02808,
        kinematic_viscosity: viscosity,
        diffusivity: viscosity / 0.7202,
        expansion: 1.0 / 333.0,
    };
    assert_near(air.rayleigh(60.0, 0.6), 764_902_757.3, 1e-8, "Ra");
    let loss = |face, length| air.coefficient(face, 60.0, length) * 0.36 * 60.0;
    assert_near(loss(Face::Upright, 0.6), 114.577_883_7, 2e-3, "upright");
    assert_near(loss(Face::Up, 0.15), 128.383_709_1, 1e-8, "up");
    assert_near(loss(Face::Down, 0.15), 64.191_854_53, 1e-8, "down");
    assert_near(0.36 * radiation::net(1.0, 363.0, 303.0), 182.364_418_5, 2e-3, "radiation");
}

/// Plates of a school bench, 10 to 20 cm, 10 to 60 K above a room of 20 °C, lie in the range of the bench's `convection`.
/// Source: the correlations above; 4 to 10 W/(m² K) in still air is common practice, no source.
#[test]
fn still_air_gives_the_coefficients_of_the_bench() {
    for excess in [10.0, 30.0, 60.0] {
        let air = air::fluid(20.0 + excess / 2.0);
        for length in [0.1, 0.2] {
            for (face, length) in [(Face::UprightLaminar, length), (Face::Up, length / 4.0)] {
                let found = air.coefficient(face, excess, length);
                assert!((2.0..12.0).contains(&found), "{face:?} {excess} {length}: {found}");
            }
        }
    }
}

/// Source: Incropera et al., example 5.1: a bead with τ 1 s in h 400 W/(m² K), k 20, c 400, ρ 8500: D 0.7058823529 mm, Bi
/// 0.002352941176, from 25 to 199 of 200 °C in 5.164785974 s.
#[test]
fn a_bead_warms_in_a_stream() {
    let bead = 0.000_705_882_352_9;
    assert_near(lumped::ball_time_constant(bead, 8500.0, 400.0, 400.0), 1.0, 1e-9, "time constant");
    assert!((lumped::ball_biot(bead, 400.0, 20.0) / 0.002_352_941_176 - 1.0).abs() < 1e-9);
    assert_near(lumped::time_to_cover(174.0 / 175.0, 1.0), 5.164_785_974, 1e-9, "time");
}

/// Source: Incropera et al., example 5.2: the same bead, ε 0.9, in gas of 473 K between walls of 673 K: steady at 218.713476 °C;
/// from 298 K to a kelvin below that in 4.993331885 s (scipy).
#[test]
fn a_bead_between_hot_walls() {
    let power = |t: f64| 400.0 * (473.0 - t) - radiation::net(0.9, t, 673.0);
    let (mut low, mut high) = (473.0_f64, 673.0_f64);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if power(middle) > 0.0 { low = middle } else { high = middle }
    }
    assert!((low - 273.0 - 218.713_476).abs() < 0.02, "{low}");
    let per_area = 8500.0 * 400.0 * 0.000_705_882_352_9 / 6.0;
    let time = lumped::time_between(298.0, low - 1.0, per_area, power);
    assert!((time - 4.993_331_885).abs() < 0.01, "{time}");
}

/// Source: Çengel, example 4-1: a bead of 1 mm, ρ 8500, c 320, h 210: b 0.4632352941 1/s, τ 2.158730159 s, 99 % after
/// 9.941319767 s.
#[test]
fn a_thermometer_follows_a_step() {
    let constant = lumped::ball_time_constant(0.001, 8500.0, 320.0, 210.0);
    assert_near(constant, 2.158_730_159, 1e-9, "time constant");
    assert_near(1.0 / constant, 0.463_235_294_1, 1e-9, "exponent");
    assert_near(lumped::time_to_cover(0.99, constant), 9.941_319_767, 1e-9, "99 %");
}

/// Source: closed form; τ 2400 s from 20 to 70 °C: 31.05996085, 39.67346701, 51.60602794 °C after 600, 1200, 2400 s; 0.9502129316
/// of the way after three time constants.
#[test]
fn every_first_order_curve_covers_the_same_shares() {
    let constant = lumped::time_constant(840.0, 0.35);
    for (time, wanted) in [(600.0, 31.059_960_85), (1200.0, 39.673_467_01), (2400.0, 51.606_027_94)] {
        assert_near(lumped::after(time, constant, 20.0, 70.0), wanted, 1e-9, "temperature");
    }
    assert_near(lumped::covered(7200.0, constant), 0.950_212_931_6, 1e-9, "share");
}

proptest! {
    #[test]
    fn the_slope_of_the_loss_is_its_slope(
        emittance in 0.0..1.0f64, faces in 1.0..2.0f64, convection in 2.0..12.0f64, exponent in 0.0..0.34f64, back in 0.0..12.0f64,
        excess in 2.0..100.0f64,
    ) {
        let plate = Plate {
            area: 0.02, absorptance: 0.9, emittance, faces, convection, convection_exponent: exponent, back_loss: back,
        };
        let step = 1e-3;
        let slope = (plate.loss(20.0 + excess + step, 20.0) - plate.loss(20.0 + excess - step, 20.0)) / (2.0 * step);
        prop_assert!((slope / plate.loss_slope(20.0 + excess, 20.0) - 1.0).abs() < 1e-5);
    }

    #[test]
    fn a_grey_plate_in_a_room_of_its_own_temperature_keeps_it(kelvin in 200.0..900.0f64, emittance in 0.0..1.0f64) {
        prop_assert_eq!(radiation::net(emittance, kelvin, kelvin), 0.0);
        prop_assert!((radiation::equilibrium(0.0, 0.9, kelvin) - kelvin).abs() < 1e-9 * kelvin);
    }
}
