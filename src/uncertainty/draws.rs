//! Columns of random numbers that Monte Carlo runs on. In: a number of the column. Out: the same column for ever.
//! A column must depend on nothing but its number: all students are judged by the same draws.

use std::{
    collections::BTreeMap,
    sync::{Arc, LazyLock, Mutex, PoisonError},
};

use rand::RngExt;
use rand_distr::{Distribution, StandardNormal};

use crate::draw::Seed;

/// Draws of a Monte Carlo run: the ends of a 95 % interval are then known to about two figures (JCGM 101:2008, 7.2.3).
pub const DRAWS: usize = 10_000;

/// The law of a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Law {
    /// Normal with standard deviation 1.
    Normal,
    /// Evenly between −1 and 1.
    Even,
}

type Columns = BTreeMap<(Law, u32, usize), Arc<[f64]>>;

/// Columns are drawn once in a run of the program.
static COLUMNS: LazyLock<Mutex<Columns>> = LazyLock::new(Mutex::default);

/// Column `index` of a law, `count` draws long.
pub(super) fn column(law: Law, index: u32, count: usize) -> Arc<[f64]> {
    // A poisoned lock only means that another thread stopped; finished columns are whole.
    let mut columns = COLUMNS.lock().unwrap_or_else(PoisonError::into_inner);
    Arc::clone(columns.entry((law, index, count)).or_insert_with(|| draw(law, index, count)))
}

fn draw(law: Law, index: u32, count: usize) -> Arc<[f64]> {
    let seed = Seed { set: "monte carlo", student: "", attempt: index };
    match law {
        Law::Normal => {
            let mut stream = seed.stream("normal");
            (0..count).map(|_| StandardNormal.sample(&mut stream)).collect()
        }
        Law::Even => {
            let mut stream = seed.stream("even");
            (0..count).map(|_| stream.random::<f64>() * 2.0 - 1.0).collect()
        }
    }
}
