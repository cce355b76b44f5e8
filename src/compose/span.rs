//! How far the answers to a task reach in a set. In: one key after the other. Out: the least and the most. It must hold no key.

use crate::key::Key;

/// The least and the largest answer to a task so far; nothing before a number was seen.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Span(Option<[(f64, String); 2]>);

impl Span {
    /// Those of all tasks, for the keys of a set to an experiment with so many.
    pub fn of(tasks: usize, keys: impl Iterator<Item = Key>) -> Vec<Self> {
        let mut spans = vec![Self::default(); tasks];
        for key in keys {
            for (index, span) in spans.iter_mut().enumerate() {
                if let Some(number) = key.number(index) {
                    span.reach(number.value, &number.text);
                }
            }
        }
        spans
    }

    fn reach(&mut self, value: f64, text: &str) {
        let one = || (value, text.to_owned());
        let Some([least, most]) = &mut self.0 else {
            self.0 = Some([one(), one()]);
            return;
        };
        if value.total_cmp(&least.0).is_lt() {
            *least = one();
        }
        // Of equal ones the last, as if they were sorted.
        if value.total_cmp(&most.0).is_ge() {
            *most = one();
        }
    }

    /// Both as printed.
    pub fn ends(&self) -> Option<[&str; 2]> {
        self.0.as_ref().map(|[least, most]| [least.1.as_str(), most.1.as_str()])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_span_keeps_the_least_and_the_most() {
        let mut span = Span::default();
        assert_eq!(span.ends(), None);
        for (value, text) in [(2.0, "2.0"), (-1.5, "-1.5"), (3.0, "3.0"), (0.0, "0.0")] {
            span.reach(value, text);
        }
        assert_eq!(span.ends(), Some(["-1.5", "3.0"]));
    }

    #[test]
    fn of_equal_answers_the_first_is_the_least_and_the_last_the_most() {
        let mut span = Span::default();
        ["1.0", "1.00", "1.000"].into_iter().for_each(|text| span.reach(1.0, text));
        assert_eq!(span.ends(), Some(["1.0", "1.000"]));
    }
}
