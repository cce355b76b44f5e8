//! How light thins out with distance. In: distances in m. Out: irradiance, or its ratio to that of a point source.
//! It must know no lamp: a lamp's power and reflector are [`super::Lamp`]'s.

/// Illuminance or irradiance below a point source of intensity I (cd or W/sr) at height h, on a level surface `aside` from
/// its foot: `E = I h / (h² + x²)^(3/2)`, which is `I cos³ φ / h²`.
///
/// Source: inverse square law and cosine law together; in every text on lighting (quoted from memory).
pub fn point_source(intensity: f64, height: f64, aside: f64) -> f64 {
    intensity / (height * height) * cosine_cubed(height, aside)
}

/// The share of the irradiance right before a source that is left `aside` of its axis, in the same plane:
/// `cos³ φ = (1 + (x/h)²)^(−3/2)`.
pub fn cosine_cubed(height: f64, aside: f64) -> f64 {
    let square = 1.0 + (aside / height) * (aside / height);
    1.0 / (square * libm::sqrt(square))
}

/// How far aside the irradiance has fallen to a share of that right below the source: `x = h √((E_0/E)^(2/3) − 1)`.
pub fn aside_of(height: f64, share: f64) -> f64 {
    height * libm::sqrt(libm::pow(share, -2.0 / 3.0) - 1.0)
}

/// Irradiance on the axis of an evenly bright disc of radius R against that of a point source of the same intensity:
/// `1 / (1 + (R/d)²)`.
///
/// Source: Lambertian disc, integral over its area in closed form (quoted from memory).
pub fn disc_share(radius: f64, distance: f64) -> f64 {
    1.0 / (1.0 + (radius / distance) * (radius / distance))
}

/// Slope of log irradiance over log distance for a disc of radius R whose virtual source lies d_0 behind the zero of the
/// ruler: `−2 d D / (D² + R²)` with `D = d + d_0`; −2 far away, flatter close by.
///
/// Source: derivative of `1 / ((d + d_0)² + R²)`.
pub fn log_slope(distance: f64, offset: f64, radius: f64) -> f64 {
    let reach = distance + offset;
    -2.0 * distance * reach / (reach * reach + radius * radius)
}
