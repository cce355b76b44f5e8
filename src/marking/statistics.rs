//! What a class's scores say about the tasks. In: scores by student and task. Out: facility, discrimination, reliability.
//! It must know no student and no task.

use serde::Serialize;

/// Scores of a class: a row a student, a score a task; nothing where a student's sheet lacks the task.
#[derive(Debug, Clone, PartialEq)]
pub struct Scores {
    rows: Vec<Vec<Option<f64>>>,
    most: Vec<f64>,
}

/// What the scores say about a task.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Item {
    /// Students whose sheet has it.
    pub students: usize,
    /// The mean score over what it is worth, 0 to 1; nothing without students.
    pub facility: Option<f64>,
    /// The correlation of its score with the rest of the total; nothing for fewer than three students, or where either is the
    /// same for all.
    pub discrimination: Option<f64>,
}

/// Students below whom a correlation says nothing.
const LEAST: usize = 3;

impl Scores {
    /// The scores of students in tasks that are worth `most`; all rows are as long as `most`.
    pub fn new(rows: Vec<Vec<Option<f64>>>, most: Vec<f64>) -> Self {
        Self { rows, most }
    }

    /// What the scores say about the task at a place.
    ///
    /// Discrimination is the corrected item-total correlation (Henrysson, Psychometrika 28 (1963) 211, from memory): the
    /// product-moment correlation of the task's score with the sum of the student's other scores. As sheets of different
    /// editions have different totals, the others are taken as a share of what they are worth.
    pub fn item(&self, task: usize) -> Item {
        let scores: Vec<(f64, f64)> = self
            .rows
            .iter()
            .filter_map(|row| {
                let own = row[task]?;
                let others = || row.iter().zip(&self.most).enumerate().filter(|(place, _)| *place != task);
                let (got, of) = others().fold((0.0, 0.0), |(got, of), (_, (score, most))| match score {
                    Some(score) => (got + score, of + most),
                    None => (got, of),
                });
                Some((own, if of > 0.0 { got / of } else { 0.0 }))
            })
            .collect();
        let students = scores.len();
        let sum: f64 = scores.iter().map(|(own, _)| own).sum();
        Item {
            students,
            facility: (students > 0 && self.most[task] > 0.0).then(|| sum / students as f64 / self.most[task]),
            discrimination: if students < LEAST { None } else { correlation(&scores) },
        }
    }

    /// Cronbach's alpha (Psychometrika 16 (1951) 297) over the tasks that all of these students have, with sample variances:
    /// k/(k − 1) · (1 − Σ var(task) / var(total)). Nothing for fewer than two such tasks or three students, or where all
    /// totals are equal.
    pub fn alpha(&self) -> Option<f64> {
        let shared: Vec<usize> =
            (0..self.most.len()).filter(|&task| self.rows.iter().all(|row| row[task].is_some())).collect();
        if shared.len() < 2 || self.rows.len() < LEAST {
            return None;
        }
        let column = |task: usize| self.rows.iter().filter_map(|row| row[task]).collect::<Vec<_>>();
        let parts: f64 = shared.iter().map(|&task| variance(&column(task))).sum();
        let totals: Vec<f64> = self.rows.iter().map(|row| shared.iter().filter_map(|&task| row[task]).sum()).collect();
        let whole = variance(&totals);
        let count = shared.len() as f64;
        (whole > 0.0).then(|| count / (count - 1.0) * (1.0 - parts / whole))
    }

    /// How many students have less than 10 %, less than 20 %, … of what their sheet is worth; full marks count in the last.
    pub fn histogram(&self) -> [usize; 10] {
        let mut bins = [0; 10];
        for row in &self.rows {
            let (got, of) = row.iter().zip(&self.most).fold((0.0, 0.0), |(got, of), (score, most)| match score {
                Some(score) => (got + score, of + most),
                None => (got, of),
            });
            if of > 0.0 {
                bins[((10.0 * got / of) as usize).min(9)] += 1;
            }
        }
        bins
    }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// The sample variance.
fn variance(values: &[f64]) -> f64 {
    let middle = mean(values);
    values.iter().map(|value| (value - middle).powi(2)).sum::<f64>() / (values.len() as f64 - 1.0)
}

/// The product-moment correlation of pairs; nothing where one side is the same for all.
fn correlation(pairs: &[(f64, f64)]) -> Option<f64> {
    let (x, y): (Vec<f64>, Vec<f64>) = pairs.iter().copied().unzip();
    let (mx, my) = (mean(&x), mean(&y));
    let (mut xy, mut xx, mut yy) = (0.0, 0.0, 0.0);
    for (x, y) in pairs {
        xy += (x - mx) * (y - my);
        xx += (x - mx).powi(2);
        yy += (y - my).powi(2);
    }
    // What is left of equal scores after rounding is no spread.
    let spread = |sum: f64, middle: f64| sum > 1e-18 * (1.0 + middle * middle);
    (spread(xx, mx) && spread(yy, my)).then(|| xy / (xx * yy).sqrt())
}
