//! Fits against certified values.

use labquire::formula::{Approach, Curve, CurveFit, FitError, Line};

use crate::reference::{assert_near, number, rows};

fn columns(name: &str) -> (Vec<f64>, Vec<f64>) {
    rows(name).iter().map(|row| (number(&row[0]), number(&row[1]))).unzip()
}

/// Source: NIST StRD, linear regression, Norris (certified to 15 digits; residual deviation from memory).
#[test]
fn norris_line() {
    let (x, y) = columns("nist_norris.csv");
    let line = Line::fit(&x, &y).expect("a line");
    assert!((line.intercept - -0.262_323_073_774_029).abs() < 1e-9, "{}", line.intercept);
    assert!((line.slope - 1.002_116_818_020_45).abs() < 1e-11, "{}", line.slope);
    assert_near(line.intercept_u / 0.232_818_234_301_152, 1.0, 1e-9, "uncertainty of the intercept");
    assert_near(line.slope_u / 0.000_429_796_848_199_937, 1.0, 1e-9, "uncertainty of the slope");
    assert_near(line.residual / 0.884_796_396_144_373, 1.0, 1e-9, "residual deviation");
}

/// Source: NIST StRD, nonlinear regression, Misra1a, y = b1 (1 − exp(−b2 x)): the heating curve from zero.
#[test]
fn misra1a_approach() {
    let (x, y) = columns("nist_misra1a.csv");
    let fit = Approach::fit(&x, &y, Some(0.0)).expect("an approach");
    assert_near(fit.limit / 238.942_129_18, 1.0, 1e-7, "b1");
    assert_near(fit.constant * 5.501_564_318_1e-4, 1.0, 1e-7, "b2");
    assert_near(fit.limit_u / 2.707_007_524_1, 1.0, 1e-5, "uncertainty of b1");
    let b2_u = fit.constant_u / (fit.constant * fit.constant);
    assert_near(b2_u / 7.266_868_844_0e-6, 1.0, 1e-5, "uncertainty of b2");
    assert_near(fit.residual_sum / 0.124_551_388_94, 1.0, 1e-7, "sum of squares");
}

/// `y = b1 x^b2`.
struct PowerLaw;

impl Curve for PowerLaw {
    fn value(&self, x: f64, parameters: &[f64]) -> f64 {
        parameters[0] * x.powf(parameters[1])
    }

    fn gradient(&self, x: f64, parameters: &[f64], slopes: &mut [f64]) {
        slopes[0] = x.powf(parameters[1]);
        slopes[1] = parameters[0] * slopes[0] * x.ln();
    }
}

/// Source: NIST StRD, nonlinear regression, DanWood, from both certified starts.
#[test]
fn danwood_power_law() {
    let (x, y) = columns("nist_danwood.csv");
    for start in [[1.0, 5.0], [0.7, 4.0]] {
        let fit = CurveFit::search(&PowerLaw, &x, &y, &start).expect("a fit");
        assert_near(fit.parameters[0] / 0.768_862_261_8, 1.0, 1e-9, "b1");
        assert_near(fit.parameters[1] / 3.860_405_587, 1.0, 1e-9, "b2");
        assert_near(fit.uncertainties[0] / 0.018_281_973_86, 1.0, 1e-7, "uncertainty of b1");
        assert_near(fit.uncertainties[1] / 0.051_726_610_91, 1.0, 1e-7, "uncertainty of b2");
        assert_near(fit.residual_sum / 0.004_317_308_408, 1.0, 1e-8, "sum of squares");
    }
}

/// `y = b1 (1 − exp(−b2 x))`.
struct Saturation;

impl Curve for Saturation {
    fn value(&self, x: f64, parameters: &[f64]) -> f64 {
        parameters[0] * (1.0 - (-parameters[1] * x).exp())
    }

    fn gradient(&self, x: f64, parameters: &[f64], slopes: &mut [f64]) {
        let fall = (-parameters[1] * x).exp();
        slopes[0] = 1.0 - fall;
        slopes[1] = parameters[0] * x * fall;
    }
}

/// Source: NIST StRD, nonlinear regression, Misra1a, from both certified starts.
#[test]
fn misra1a_from_both_starts() {
    let (x, y) = columns("nist_misra1a.csv");
    for start in [[500.0, 0.0001], [250.0, 0.0005]] {
        let fit = CurveFit::search(&Saturation, &x, &y, &start).expect("a fit");
        assert_near(fit.parameters[0] / 238.942_129_18, 1.0, 1e-9, "b1");
        assert_near(fit.parameters[1] / 5.501_564_318_1e-4, 1.0, 1e-9, "b2");
        assert_near(fit.residual_sum / 0.124_551_388_94, 1.0, 1e-8, "sum of squares");
    }
}

/// Source: a measured cooling curve, hot water in a mug (Stan Wagon, CoolingWater of the R package mosaicData), against scipy's
/// estimates and standard errors of `tests/reference/cooling_water.py`. The whole curve follows no single exponential:
/// its residuals are forty times those of its last part.
#[test]
fn a_measured_cooling_curve() {
    let (time, temperature) = columns("cooling_water.csv");
    let sets = rows("cooling_water_fit.csv");
    for set in sets.chunks(3) {
        let (first, every) = (number(&set[0][1]) as usize, number(&set[0][2]) as usize);
        let pick = |values: &[f64]| -> Vec<f64> { values.iter().copied().skip(first).step_by(every).collect() };
        let fit = Approach::fit(&pick(&time), &pick(&temperature), None).expect("an approach");
        let name = &set[0][0];
        assert_near(fit.limit / number(&set[0][6]), 1.0, 1e-3, &format!("{name}: limit"));
        assert_near(fit.constant / number(&set[1][6]), 1.0, 1e-3, &format!("{name}: constant"));
        assert_near(fit.start / number(&set[2][6]), 1.0, 1e-3, &format!("{name}: start"));
        assert_near(fit.limit_u / number(&set[0][7]), 1.0, 0.02, &format!("{name}: uncertainty of the limit"));
        assert_near(fit.constant_u / number(&set[1][7]), 1.0, 0.02, &format!("{name}: uncertainty of the constant"));
    }
}

#[test]
fn faults_are_told() {
    assert_eq!(Line::fit(&[1.0], &[2.0]), Err(FitError::TooFew { found: 1, needed: 2 }));
    assert_eq!(Line::fit(&[1.0, 1.0], &[2.0, 3.0]), Err(FitError::Vertical));
    let x: Vec<f64> = (0..10).map(f64::from).collect();
    let straight: Vec<f64> = x.iter().map(|x| 3.0 * x).collect();
    let bent: Vec<f64> = x.iter().map(|x| x * x).collect();
    assert_eq!(Approach::fit(&x, &bent, None), Err(FitError::NoLimit));
    assert!(!matches!(Approach::fit(&x, &straight, None), Ok(fit) if fit.limit < 1e6), "a straight line has no limit");
}
