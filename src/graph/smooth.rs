//! A smooth curve through given points. In: points. Out: a curve that rises where they rise and falls where they fall.
//! It must not overshoot: a drawn curve may show no hump that no reading shows.

/// Cubic pieces with slopes by the weighted harmonic mean of Fritsch and Butland (SIAM J. Sci. Stat. Comput. 5 (1984)
/// 300), which keeps every piece monotone.
#[derive(Debug, Clone, PartialEq)]
pub struct Smooth {
    points: Vec<(f64, f64)>,
    slopes: Vec<f64>,
}

impl Smooth {
    /// The curve through points in any order; points at the same place count as one at their mean height. `None` with
    /// fewer than two places.
    pub fn through(x: &[f64], y: &[f64]) -> Option<Self> {
        let mut all: Vec<(f64, f64)> = x.iter().copied().zip(y.iter().copied()).collect();
        all.sort_by(|one, other| one.0.total_cmp(&other.0));
        let points: Vec<(f64, f64)> = all
            .chunk_by(|one, other| one.0 == other.0)
            .map(|same| (same[0].0, same.iter().map(|point| point.1).sum::<f64>() / same.len() as f64))
            .collect();
        (points.len() >= 2).then(|| Self { slopes: slopes(&points), points })
    }

    /// The height at a place; beyond the ends that of the nearest piece.
    pub fn value(&self, x: f64) -> f64 {
        let last_piece = self.points.len() - 2;
        let piece = self.points.partition_point(|point| point.0 <= x).saturating_sub(1).min(last_piece);
        let ((x0, y0), (x1, y1)) = (self.points[piece], self.points[piece + 1]);
        let width = x1 - x0;
        let share = (x - x0) / width;
        let rest = 1.0 - share;
        let (start, end) = (self.slopes[piece] * width, self.slopes[piece + 1] * width);
        rest * rest * ((1.0 + 2.0 * share) * y0 + share * start)
            + share * share * ((3.0 - 2.0 * share) * y1 - rest * end)
    }
}

fn slopes(points: &[(f64, f64)]) -> Vec<f64> {
    let widths: Vec<f64> = points.windows(2).map(|pair| pair[1].0 - pair[0].0).collect();
    let secants: Vec<f64> = points.windows(2).map(|pair| (pair[1].1 - pair[0].1) / (pair[1].0 - pair[0].0)).collect();
    let count = widths.len();
    if count == 1 {
        return vec![secants[0]; 2];
    }
    let inner = (1..count).map(|at| {
        let (before, after) = (secants[at - 1], secants[at]);
        if before * after <= 0.0 {
            return 0.0;
        }
        let (near, far) = (2.0 * widths[at] + widths[at - 1], widths[at] + 2.0 * widths[at - 1]);
        (near + far) / (near / before + far / after)
    });
    let first = end_slope([widths[0], widths[1]], [secants[0], secants[1]]);
    let last = end_slope([widths[count - 1], widths[count - 2]], [secants[count - 1], secants[count - 2]]);
    [first].into_iter().chain(inner).chain([last]).collect()
}

/// The slope at an end from the parabola through three points, held back where that would overshoot.
fn end_slope([near, next]: [f64; 2], [first, second]: [f64; 2]) -> f64 {
    let slope = ((2.0 * near + next) * first - near * second) / (near + next);
    if slope * first <= 0.0 {
        0.0
    } else if first * second < 0.0 && slope.abs() > 3.0 * first.abs() {
        3.0 * first
    } else {
        slope
    }
}
