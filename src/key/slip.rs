//! Likely slips. In: their formulas and the right answer. Out: the numbers they give, and whether a range would take them.
//! It must not move a range.

use serde::{Deserialize, Serialize};

use super::range::Range;
use crate::{experiment::plan::NumberPlan, formula, variant::Known};

/// What a slip gives.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Slip {
    /// Which slip.
    pub kind: SlipKind,
    /// The number, rounded as the answer is, in the answer's unit.
    pub value: f64,
    /// The same as printed: plain decimal text.
    pub text: String,
    /// Whether it lies inside the range that uncertainty alone would give.
    pub inside: bool,
    /// Whether it is still accepted after the range was cut: it can't be told from the right answer.
    pub accepted: bool,
}

/// Which slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum SlipKind {
    /// The slip at this place of the task's list.
    Listed(usize),
    /// A power of ten.
    Power(i32),
}

/// Powers of ten that prefixes and squared centimetres make easy to miss.
const POWERS: [i32; 6] = [1, 2, 3, -1, -2, -3];

/// What the listed slips and the powers of ten give that lie inside a range; a slip that has no value for these
/// readings is left out.
pub(super) fn slips(plan: &NumberPlan, known: &Known, range: &Range) -> Vec<Slip> {
    let slip = |kind: SlipKind, number: f64| {
        let printed = plan.form.round(number);
        let inside = range.holds(printed.value);
        Slip { kind, value: printed.value, text: printed.text, inside, accepted: inside }
    };
    let listed = plan.slips.iter().enumerate().filter_map(|(index, node)| {
        let number = plan.unit.from_si(formula::evaluate(node, known).ok()?.number());
        number.is_finite().then(|| slip(SlipKind::Listed(index), number))
    });
    let powers =
        POWERS.into_iter().map(|power| slip(SlipKind::Power(power), range.value * libm::pow(10.0, f64::from(power))));
    listed.chain(powers.filter(|slip| slip.inside)).collect()
}
