//! Complex numbers for the solver's linear equations. In: real and imaginary parts. Out: sums, products, inverses.
//! They must use nothing but the four basic operations, so that results are the same on every machine.

use std::ops::{Add, Mul, Sub};

/// What a matrix can be made of.
pub(super) trait Number: Copy + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> {
    /// A real number as one of this kind.
    fn real(value: f64) -> Self;
    /// One over it.
    fn inverse(self) -> Self;
    /// How large it is; for choosing pivots only.
    fn size(self) -> f64;
}

impl Number for f64 {
    fn real(value: f64) -> Self {
        value
    }

    fn inverse(self) -> Self {
        1.0 / self
    }

    fn size(self) -> f64 {
        self.abs()
    }
}

/// A complex number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Complex {
    pub(super) re: f64,
    pub(super) im: f64,
}

impl Complex {
    pub(super) const fn new(re: f64, im: f64) -> Self {
        Self { re, im }
    }
}

impl Add for Complex {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self::new(self.re + other.re, self.im + other.im)
    }
}

impl Sub for Complex {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self::new(self.re - other.re, self.im - other.im)
    }
}

impl Mul for Complex {
    type Output = Self;

    fn mul(self, other: Self) -> Self {
        Self::new(self.re * other.re - self.im * other.im, self.re * other.im + self.im * other.re)
    }
}

impl Number for Complex {
    fn real(value: f64) -> Self {
        Self::new(value, 0.0)
    }

    fn inverse(self) -> Self {
        let square = self.re * self.re + self.im * self.im;
        Self::new(self.re / square, -self.im / square)
    }

    fn size(self) -> f64 {
        self.re.abs() + self.im.abs()
    }
}
