//! Graph paper with what is drawn on it. In: positions in millimetres. Out: plain data.
//! Every position counts from the lower left corner of the paper, x to the right, y upwards.

use serde::Serialize;

use super::{Math, Rich};

/// Graph paper.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Graph {
    /// Width of the paper in millimetres, a multiple of 10.
    pub width_mm: u32,
    /// Height of the paper in millimetres, a multiple of 10.
    pub height_mm: u32,
    /// The horizontal axis.
    pub x: Axis,
    /// The vertical axis.
    pub y: Axis,
    /// How much of the axes is printed.
    pub frame: Frame,
    /// What is drawn from readings, each series with marks of its own.
    pub series: Vec<Series>,
    /// Straight lines such as a limit, a reading taken, or the sides of a triangle.
    pub lines: Vec<GuideLine>,
    /// Numbers in the graph, such as a level's, at the places where they are read.
    pub notes: Vec<Label>,
    /// What the graph shows, in words.
    pub alt: String,
}

impl Graph {
    /// Whether there is anything on the paper.
    pub fn is_drawn(&self) -> bool {
        !(self.series.is_empty() && self.lines.is_empty() && self.notes.is_empty())
    }
}

/// Readings with their curve.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Series {
    /// The readings.
    pub points: Vec<(f64, f64)>,
    /// A curve through these positions.
    pub curve: Vec<(f64, f64)>,
    /// Whether the curve is broken.
    pub dashed: bool,
    /// Its name; nothing where there is only one series.
    pub label: Option<Label>,
}

/// Words on the paper, such as the name of a series.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Label {
    /// The place that it belongs to, at half its height.
    pub at: (f64, f64),
    /// Where it stands.
    pub side: Side,
    /// The words.
    pub text: Math,
}

/// Where a label stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// A little to the right of its place.
    Right,
    /// A little to the left of its place.
    Left,
    /// With its middle at its place.
    Middle,
}

/// An axis.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Axis {
    /// Quantity over unit.
    pub title: Rich,
    /// Positions in millimetres along the axis and the numbers beside them.
    pub ticks: Vec<(f64, String)>,
}

/// How much of the axes is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Frame {
    /// Axes, numbers and titles.
    Labelled,
    /// Axes alone.
    Drawn,
    /// Nothing but the paper.
    Blank,
}

/// A straight line on the paper.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GuideLine {
    /// Where it starts.
    pub from: (f64, f64),
    /// Where it ends.
    pub to: (f64, f64),
    /// Broken or solid.
    pub dashed: bool,
}
