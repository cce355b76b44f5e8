//! The verdict on a number. In: an answer as typed, the key's, what follows from own earlier answers. Out: the verdict, what led to
//! it, and marks.

use super::{
    Attempt, Entry, Typed, TypedUnit, Verdict, Why,
    own::{OwnWorld, typed},
};
use crate::{
    class::Edition,
    experiment::{
        definition::{Credit, Marks},
        plan::NumberPlan,
    },
    key::{Number, SlipKind},
    quantity::{Kind, Unit, rounding},
};

/// The powers of ten that an answer may be off by and still be seen as such.
const POWERS: i32 = 9;
/// By how many significant figures an answer may differ from the key's (common practice, no source).
const FIGURES: usize = 1;

/// What a numeric task is judged by.
pub(super) struct Judge<'a> {
    pub(super) plan: &'a NumberPlan,
    pub(super) key: &'a Number,
    pub(super) edition: Edition,
    pub(super) marks: Marks,
    pub(super) credit: Credit,
}

/// A number with what is wrong with its unit.
#[derive(Clone, Copy)]
struct Given {
    value: f64,
    fault: Option<Why>,
}

impl Judge<'_> {
    /// The attempt that an entry is.
    pub(super) fn number(&self, entry: &Entry, world: &OwnWorld) -> Attempt {
        let of = self.marks.total();
        let blank = Attempt {
            entry: entry.clone(),
            value: None,
            own: None,
            verdict: Verdict::None,
            why: Why::Plain,
            unit_fault: false,
            got: 0,
            of,
        };
        let Some(answer) = typed(entry) else { return blank };
        let own = world
            .expected(self.plan)
            .map(|(value, allowance)| (self.key.unit.from_si(value), allowance / self.key.unit.scale()));
        let readings = self.readings(answer);
        let found = readings.iter().map(|given| (*given, self.verdict(answer, *given, own, world)));
        // Where a sign has two meanings, the better one was meant.
        let best = found
            .max_by_key(|(_, (verdict, why))| (self.earned(*verdict, *why, false), std::cmp::Reverse(*verdict as u8)));
        let Some((given, (verdict, why))) = best else { return blank };
        let unit_fault = given.fault.is_some() && verdict != Verdict::Unit;
        let got = self.earned(verdict, why, unit_fault);
        let own = own.map(|(value, _)| value).filter(|value| !self.accepts(*value, self.key.value, 0.0));
        Attempt { value: Some(given.value), own, verdict, why, unit_fault, got, ..blank }
    }

    /// The numbers that a text may mean, in the answer's unit.
    fn readings(&self, answer: &Typed) -> Vec<Given> {
        let numbers = std::iter::once(answer.value).chain(answer.other);
        numbers.flat_map(|number| self.in_unit(number, &answer.unit)).collect()
    }

    fn in_unit(&self, number: f64, unit: &TypedUnit) -> Vec<Given> {
        let expected = &self.key.unit;
        match unit {
            TypedUnit::None => {
                // Support and core print the unit behind the line; the extension leaves it to the student.
                let left = self.edition == Edition::Extension && self.marks.unit > 0 && *expected != Unit::one();
                let mut readings = vec![Given { value: number, fault: left.then_some(Why::UnitMissing) }];
                if self.edition == Edition::Extension && expected.dimension() == Unit::one().dimension() {
                    // 0.54 is as good as 54 % where no unit is printed.
                    readings.push(Given { value: expected.from_si(number), fault: None });
                }
                readings
            }
            TypedUnit::Nonsense => vec![Given { value: number, fault: Some(Why::UnitWrong) }],
            TypedUnit::Known(unit) if unit.dimension() == expected.dimension() => {
                let value = if unit == expected { number } else { self.converted(number, unit) };
                let as_asked = Given { value, fault: None };
                // 14.1 J in place of 14.1 kJ is a slip of the unit.
                vec![as_asked, Given { value: number, fault: (unit != expected).then_some(Why::UnitWrong) }]
            }
            TypedUnit::Known(_) => vec![Given { value: number, fault: Some(Why::UnitWrong) }],
        }
    }

    /// A number in the answer's unit; a temperature on a scale may stand for one in kelvins, a difference in °C for one in K.
    fn converted(&self, number: f64, unit: &Unit) -> f64 {
        let expected = &self.key.unit;
        if unit.kind() == expected.kind() {
            return expected.from_si(unit.to_si(number));
        }
        let si = number * unit.scale();
        // 331 K is a temperature of 58 °C, but a rise of 12 °C is one of 12 K.
        if expected.kind() == Kind::Point { expected.from_si(si) } else { si / expected.scale() }
    }

    fn verdict(&self, answer: &Typed, given: Given, own: Option<(f64, f64)>, world: &OwnWorld) -> (Verdict, Why) {
        if self.accepts(given.value, self.key.value, 0.0) {
            return match given.fault {
                Some(fault) => (Verdict::Unit, fault),
                None => self.figures(answer),
            };
        }
        if let Some((value, allowance)) = own
            && self.accepts(given.value, value, allowance)
        {
            return (Verdict::FollowThrough, given.fault.unwrap_or(Why::Plain));
        }
        if let Some(power) = self.power(given.value, own) {
            return (Verdict::PowerOfTen, Why::Power(power));
        }
        match self.slip(answer, given.value, world) {
            Some(place) => (Verdict::Wrong, Why::Slip(place)),
            None => (Verdict::Wrong, Why::Plain),
        }
    }

    /// Whether a number lies in the key's range, or in that range carried over to another expected value.
    fn accepts(&self, number: f64, expected: f64, allowance: f64) -> bool {
        let (low, high) = self.range(expected);
        let tiny = 1e-9 * (high - low).abs().max(expected.abs());
        (low - allowance - tiny..=high + allowance + tiny).contains(&number)
    }

    /// The key's range around an expected value, as wide in proportion.
    fn range(&self, expected: f64) -> (f64, f64) {
        let (low, high) = (self.key.accept.0.value, self.key.accept.1.value);
        if expected == self.key.value {
            return (low, high);
        }
        let (below, above) = (self.key.value - low, high - self.key.value);
        let scale = if self.key.value == 0.0 { 1.0 } else { (expected / self.key.value).abs() };
        // A number that may be rounded as the key's is.
        let last = self.plan.form.last_place(expected);
        let (below, above) = if expected * self.key.value < 0.0 { (above, below) } else { (below, above) };
        (expected - (below * scale).max(last / 2.0), expected + (above * scale).max(last / 2.0))
    }

    fn figures(&self, answer: &Typed) -> (Verdict, Why) {
        let asked = rounding::figures(&self.key.text);
        match answer.figures {
            // What was typed in another unit keeps its figures; a fraction or a lone power has none to speak of.
            Some(found) if found.abs_diff(asked) > FIGURES => (Verdict::Figures, Why::Figures { found, asked }),
            _ => (Verdict::Right, Why::Plain),
        }
    }

    fn power(&self, number: f64, own: Option<(f64, f64)>) -> Option<i32> {
        let expected = std::iter::once((self.key.value, 0.0)).chain(own);
        let powers = (1..=POWERS).flat_map(|power| [power, -power]);
        let candidates: Vec<i32> = powers.collect();
        expected
            .flat_map(|(value, allowance)| candidates.iter().map(move |&power| (power, value, allowance)))
            .find(|&(power, value, allowance)| {
                self.accepts(number / libm::pow(10.0, f64::from(power)), value, allowance)
            })
            .map(|(power, ..)| power)
    }

    /// The slip that gives the number.
    fn slip(&self, answer: &Typed, number: f64, world: &OwnWorld) -> Option<usize> {
        let near = |value: f64| {
            let (low, high) = self.range(value);
            let half = answer.half.max(self.plan.form.last_place(value) / 2.0) * (1.0 + 1e-9);
            (low.min(value - half)..=high.max(value + half)).contains(&number)
        };
        let listed = self.key.slips.iter().filter_map(|slip| match slip.kind {
            SlipKind::Listed(place) => Some((place, slip.value)),
            SlipKind::Power(_) => None,
        });
        listed.clone().find(|(_, value)| near(*value)).map(|(place, _)| place).or_else(|| {
            let own = |place: usize| world.slip(self.plan, place).map(|value| self.key.unit.from_si(value));
            listed.clone().find(|(place, _)| own(*place).is_some_and(near)).map(|(place, _)| place)
        })
    }

    fn earned(&self, verdict: Verdict, why: Why, unit_fault: bool) -> u32 {
        let all = self.marks.total();
        let earned = match (verdict, why) {
            (Verdict::Right, _) => all,
            (Verdict::FollowThrough, _) => self.marks.of(self.credit.follow_through()),
            (Verdict::Unit, _) => self.marks.of(self.credit.unit()),
            (Verdict::Figures, _) => self.marks.of(self.credit.figures()),
            (Verdict::PowerOfTen, _) => self.marks.of(self.credit.power_of_ten()),
            (Verdict::Wrong, Why::Slip(_)) => self.marks.of(self.credit.slip()),
            (Verdict::Wrong | Verdict::None, _) => 0,
        };
        if unit_fault { earned.min(all.saturating_sub(self.marks.unit)) } else { earned }
    }
}
