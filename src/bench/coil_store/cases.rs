//! The coil in cases that have a closed solution. They lie outside the ranges of the inputs, so that they are put to the model
//! itself: the source holds its temperature, the store has a constant heat capacity.

use super::model::{Model, Vessel};
use crate::bench::{store::Store, water};

fn near(found: f64, wanted: f64, tolerance: f64) {
    assert!((found - wanted).abs() <= tolerance, "found {found}, wanted {wanted}");
}

/// Source: `ε = 1 − exp(−NTU)` for a side of one temperature (library ht 1.2.0) and the closed form of charging: 3 g/s at
/// 4180 J/(kg K), 8 W/K, store 900 J/K, 60 °C into 20 °C: 236.5696211 W at the start, return 41.13479895 °C, after
/// 600 s 59.22426752 °C.
#[test]
fn a_coil_charges_a_store_towards_its_source() {
    let still = |capacity, start| Vessel {
        store: Store { water_mass: 0.0, vessel_capacity: capacity, loss_per_kelvin: 0.0 },
        start,
    };
    let model = |flow| Model {
        flow,
        transfer: 8.0,
        source: still(1e15, 60.0),
        heater: 0.0,
        store: still(900.0, 20.0),
        room: 20.0,
        probe_lag: 0.0,
    };
    // The flow that carries 12.54 W/K at the temperature of the start.
    let begin = model(12.54 / water::heat_capacity(40.0));
    near(begin.passed(60.0, 20.0), 236.569_621_1, 1e-7);
    near(begin.outlet(60.0, 20.0), 41.134_798_95, 1e-8);
    // While the store warms the heat capacity of the stream changes by 0.1 %, that of the case does not.
    let end = begin.solve(&[600.0], 1e-10).expect("a solution")[0][1];
    near(end, 59.224_267_52, 1e-3);
}
