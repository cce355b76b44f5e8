//! The size of graph paper on a sheet. In: the print size. Out: millimetres. It must know no page.

/// Graph paper: whole 10 mm wide and high.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GraphPaper {
    /// Width, mm.
    pub width_mm: u32,
    /// Height, mm.
    pub height_mm: u32,
    /// Side of the smallest square, mm.
    pub square_mm: u32,
}

impl GraphPaper {
    /// The paper of a sheet; large print has wide squares (5 mm), set anew instead of enlarged.
    ///
    /// Both sizes leave room for a task's words and the numbers at the axes on A4 and on Letter.
    pub fn of(large: bool) -> Self {
        if large {
            Self { width_mm: 150, height_mm: 110, square_mm: 5 }
        } else {
            Self { width_mm: 160, height_mm: 120, square_mm: 1 }
        }
    }
}
