//! Root finding: always inside a bracket, never a guess left in. A root finder returns `Option`.

/// Illinois form of false position inside `[a, b]`; `None` where the bracket holds no change of sign. Ends when the bracket or the residual
/// is below `tolerance`, which is in the units of x and of f alike; the functions here are scaled near 1.
pub fn bracketed(mut a: f64, mut b: f64, tolerance: f64, mut f: impl FnMut(f64) -> f64) -> Option<f64> {
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return Some(a);
    }
    if fb == 0.0 {
        return Some(b);
    }
    // a NaN at either end is no change of sign
    if (fa * fb).is_nan() || fa * fb > 0.0 {
        return None;
    }
    let mut side = 0;
    for _ in 0..200 {
        let c = (fa * b - fb * a) / (fa - fb);
        let fc = f(c);
        if fc.abs() < tolerance || (b - a).abs() < tolerance {
            return Some(c);
        }
        if fc * fb > 0.0 {
            (b, fb) = (c, fc);
            if side == -1 {
                fa /= 2.0;
            }
            side = -1;
        } else {
            (a, fa) = (c, fc);
            if side == 1 {
                fb /= 2.0;
            }
            side = 1;
        }
    }
    None
}

/// Slope of the weft where it crosses, radians, by [`crate::formulas::cloth::CRIMP_IN_REED`]: `laid` is the weft of one repeat in the reed,
/// lengths in one unit. `None` where the ends touch first.
pub fn crimp_in_reed(ends: f64, crossings: f64, sum: f64, height: f64, laid: f64) -> Option<f64> {
    let jam = libm::acos(1.0 - height / sum);
    let needs = |angle: f64| {
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        let straight = (height - sum * (1.0 - cos)) / sin;
        crossings * (sum * angle + straight) + (ends - crossings) * (straight * cos + sum * sin)
    };
    if needs(jam).is_nan() || needs(jam) > laid {
        return None;
    }
    // at a small angle a thread needs about height over angle each crossing, far more than is laid
    let shallow = 0.2 * (height * ends / laid).min(jam);
    bracketed(shallow, jam, 1e-13, |angle| needs(angle) / laid - 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_PI_3;

    #[test]
    fn a_root_is_found_and_none_is_not_invented() {
        let root = bracketed(0.0, 2.0, 1e-14, |x| x * x - 2.0).expect("a change of sign");
        assert!((root - std::f64::consts::SQRT_2).abs() < 1e-12);
        assert_eq!(bracketed(0.0, 1.0, 1e-12, |x| x * x + 1.0), None);
        assert_eq!(bracketed(0.0, 1.0, 1e-12, |_| f64::NAN), None);
    }

    /// Peirce's square jammed cloth: 60 degrees, and l = 1.0472 D is just enough weft.
    #[test]
    fn the_jam_is_where_peirce_has_it() {
        let enough = crimp_in_reed(2.0, 2.0, 1.0, 0.5, 2.0 * 1.0000005 * FRAC_PI_3).expect("just not jammed");
        // the crimp nears the jam as a square root: half a millionth more room is already 0.08 degrees
        assert!((enough.to_degrees() - 60.0).abs() < 0.1, "{}", enough.to_degrees());
        assert_eq!(crimp_in_reed(2.0, 2.0, 1.0, 0.5, 2.0 * 0.9999 * FRAC_PI_3), None);
    }
}
