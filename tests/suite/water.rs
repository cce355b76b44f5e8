//! Water properties against published formulations.

use crate::reference::{assert_near, number, rows};
use labquire::bench::water;

/// Source: IAPWS-IF97 (IAPWS R7-97), by the crate `seuif97`.
#[test]
fn density_and_heat_capacity_follow_if97() {
    let pressure = 0.101_325;
    for t in 0..=95 {
        let t = f64::from(t).max(0.01);
        let density = 1.0 / seuif97::pt(pressure, t, seuif97::OV);
        let heat_capacity = 1000.0 * seuif97::pt(pressure, t, seuif97::OCP);
        let (found_density, found_capacity) = (water::density(t), water::heat_capacity(t));
        assert!((found_density / density - 1.0).abs() < 5e-4, "density at {t} °C: {found_density} against {density}");
        assert!(
            (found_capacity / heat_capacity - 1.0).abs() < 1e-3,
            "c_p at {t} °C: {found_capacity}, {heat_capacity}"
        );
    }
}

/// Source: IAPWS-95 table at 101 325 Pa (tests/reference/water_properties_1atm.csv).
#[test]
fn properties_follow_iapws95() {
    for row in rows("water_properties_1atm.csv") {
        let t = number(&row[0]);
        assert_near(water::density(t), number(&row[1]), 1e-5, "density");
        assert_near(water::heat_capacity(t), number(&row[2]), 2e-5, "heat capacity");
        let since_zero = water::enthalpy(t) - water::enthalpy(0.01);
        assert!((since_zero - number(&row[3])).abs() < 3.0, "enthalpy at {t} °C: {since_zero}");
    }
}

/// Source: enthalpy difference of 0.200 kg of water from 20 °C to 60 °C, IAPWS-95: 33 448.28 J.
#[test]
fn heat_to_warm_a_glass_of_water() {
    let heat = 0.2 * (water::enthalpy(60.0) - water::enthalpy(20.0));
    assert_near(heat, 33_448.278_54, 2e-5, "heat");
}

/// The enthalpy is the integral of the heat capacity: its slope must be that capacity.
#[test]
fn enthalpy_integrates_heat_capacity() {
    for t in 1..95 {
        let t = f64::from(t);
        let slope = (water::enthalpy(t + 0.01) - water::enthalpy(t - 0.01)) / 0.02;
        assert_near(slope, water::heat_capacity(t), 1e-7, "slope of the enthalpy");
    }
}

/// A solver may try a temperature at which no water is liquid: the properties stay those of the nearest liquid.
#[test]
fn properties_stay_sound_outside_the_fits() {
    for (outside, end) in [(-30.0, 0.0), (400.0, 99.0)] {
        assert_near(water::density(outside), water::density(end), 1e-15, "density");
        assert_near(water::heat_capacity(outside), water::heat_capacity(end), 1e-15, "heat capacity");
        let rise = water::enthalpy(outside) - water::enthalpy(end);
        assert_near(rise, water::heat_capacity(end) * (outside - end), 1e-12, "enthalpy");
    }
}
