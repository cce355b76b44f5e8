//! Monthly mean irradiation on a tilted plane that faces the equator. In: latitude, tilt (degrees), clearness, month.
//! Out: irradiation in J/m² a day. It must know no collector.
//!
//! Source: Duffie and Beckman, Solar Engineering of Thermal Processes, sections 1.6, 1.10, 2.12 and 2.19 (quoted from memory):
//! Cooper's declination, extraterrestrial radiation, diffuse share of Erbs, Klein and Duffie, mean R_b of Liu and Jordan.

use std::f64::consts::PI;

/// Solar constant, W/m².
const SOLAR_CONSTANT: f64 = 1367.0;

/// Mean day of each month, counted from 1 January, as recommended by Klein.
const MEAN_DAY: [f64; 12] = [17.0, 47.0, 75.0, 105.0, 135.0, 162.0, 198.0, 228.0, 258.0, 288.0, 318.0, 344.0];

/// Days of each month of a common year.
const DAYS: [f64; 12] = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];

fn of_month(table: &[f64; 12], month: usize) -> f64 {
    table[(month + 11) % 12]
}

/// Days of a month; 1 is January, and months go on round the year.
pub fn days(month: usize) -> f64 {
    of_month(&DAYS, month)
}

/// Sun and horizon on the mean day of a month.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sky {
    /// Latitude φ, rad; north is positive, and below the polar circle.
    latitude: f64,
    /// Declination δ, rad.
    declination: f64,
    /// Day of the year.
    day: f64,
}

impl Sky {
    /// The sky over a northern latitude in degrees in a month.
    pub fn new(latitude: f64, month: usize) -> Self {
        let day = of_month(&MEAN_DAY, month);
        let declination = (23.45 * PI / 180.0) * libm::sin(2.0 * PI * (284.0 + day) / 365.0);
        Self { latitude: latitude * PI / 180.0, declination, day }
    }

    /// Hour angle of sunset on a plane tilted by an angle (rad), `cos ω = −tan(φ − β) tan δ`.
    fn sunset(&self, tilt: f64) -> f64 {
        libm::acos((-libm::tan(self.latitude - tilt) * libm::tan(self.declination)).clamp(-1.0, 1.0))
    }

    /// `cos(φ − β) cos δ sin ω + ω sin(φ − β) sin δ`: the day's sum of the cosine of incidence.
    fn cosine_sum(&self, tilt: f64, hour_angle: f64) -> f64 {
        let seen = self.latitude - tilt;
        libm::cos(seen) * libm::cos(self.declination) * libm::sin(hour_angle)
            + hour_angle * libm::sin(seen) * libm::sin(self.declination)
    }

    /// Daily irradiation H_0 on a horizontal plane outside the atmosphere, J/m².
    pub fn extraterrestrial(&self) -> f64 {
        let distance = 1.0 + 0.033 * libm::cos(2.0 * PI * self.day / 365.0);
        86_400.0 / PI * SOLAR_CONSTANT * distance * self.cosine_sum(0.0, self.sunset(0.0))
    }

    /// Diffuse share H_d/H of the month's light at a clearness K_T from 0.3 to 0.8.
    pub fn diffuse_share(&self, clearness: f64) -> f64 {
        let k = clearness;
        let late = self.sunset(0.0) > 81.4 * PI / 180.0;
        let [a, b, c, d] = if late { [1.311, 3.022, 3.427, 1.821] } else { [1.391, 3.560, 4.189, 2.137] };
        a - b * k + c * k * k - d * k * k * k
    }

    /// Mean ratio R_b of direct light on the tilted plane to that on the horizontal one.
    pub fn direct_ratio(&self, tilt_degrees: f64) -> f64 {
        let tilt = tilt_degrees * PI / 180.0;
        let flat = self.sunset(0.0);
        self.cosine_sum(tilt, flat.min(self.sunset(tilt))) / self.cosine_sum(0.0, flat)
    }

    /// Daily irradiation on a plane of a tilt (degrees) above ground of an albedo, J/m²:
    /// `H ((1 − H_d/H) R_b + H_d/H (1 + cos β)/2 + ρ (1 − cos β)/2)` with `H = K_T H_0`.
    pub fn irradiation(&self, clearness: f64, tilt_degrees: f64, albedo: f64) -> f64 {
        let horizontal = clearness * self.extraterrestrial();
        let diffuse = self.diffuse_share(clearness);
        let cosine = libm::cos(tilt_degrees * PI / 180.0);
        let direct = (1.0 - diffuse) * self.direct_ratio(tilt_degrees);
        horizontal * (direct + diffuse * (1.0 + cosine) / 2.0 + albedo * (1.0 - cosine) / 2.0)
    }
}
